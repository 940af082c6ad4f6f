package nodetest

import "strings"

// overTheWire spoils lines and lets them arrive: after 1 to 20 ms, in order.
func (b Box) overTheWire(out *Truth) {
	arrived := 0.0
	for i := range out.Lines {
		l := &out.Lines[i]
		l.Bytes = l.Written + "\r\n"
		l.At = max(arrived, l.At+0.001+0.019*b.Rng.Float64()*b.Rng.Float64())
		arrived = l.At
		if b.SpoilTo > 0 && (l.At < b.SpoilFrom || l.At > b.SpoilTo) {
			continue
		}
		text := l.Written
		switch u := b.Rng.Float64(); {
		case u < b.Garbled:
			bytes := []byte(text)
			for range 1 + b.Rng.IntN(3) {
				k := b.Rng.IntN(len(bytes))
				if b.Rng.IntN(2) == 0 {
					bytes[k] = byte('0' + b.Rng.IntN(10))
				} else {
					bytes[k] ^= 1 << b.Rng.IntN(8)
				}
			}
			l.Bytes, l.Intact = string(bytes)+"\r\n", string(bytes) == text
		case u < b.Garbled+b.Cut:
			k := 1 + b.Rng.IntN(len(text))
			if b.Rng.IntN(2) == 0 {
				l.Bytes = text[k:] + "\r\n"
			} else {
				l.Bytes = text[:len(text)-k] + "\r\n"
			}
			l.Intact = false
		case u < b.Garbled+b.Cut+b.Merged && i+1 < len(out.Lines):
			l.Bytes, l.Intact = text, false // the line end is lost: it runs into the next
		case u < b.Garbled+b.Cut+b.Merged+b.Gone:
			l.Bytes, l.Intact = "", false
		}
	}
	open := false // what a line without an end runs into is spoiled too
	for i := range out.Lines {
		l := &out.Lines[i]
		if l.Bytes == "" {
			continue
		}
		l.Intact = l.Intact && !open
		open = !strings.HasSuffix(l.Bytes, "\n")
	}
	for i := range out.Lines {
		l := &out.Lines[i]
		for _, c := range b.CableOut {
			if l.At >= c[0] && l.At < c[1] {
				l.Bytes, l.Intact, l.cableOut = "", false, true
			}
		}
	}
	for _, c := range b.CableOut { // the plug goes in the middle of a line, and comes back in one
		for i := range out.Lines {
			l := &out.Lines[i]
			if l.At >= c[1] && !l.cableOut {
				if k := b.Rng.IntN(len(l.Bytes) + 1); k > 0 {
					l.Bytes, l.Intact = l.Bytes[k:], false
				}
				if i+1 < len(out.Lines) && !strings.HasSuffix(l.Bytes, "\n") {
					out.Lines[i+1].Intact = out.Lines[i+1].Intact && l.Bytes == ""
				}
				break
			}
		}
	}
}
