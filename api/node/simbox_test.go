package node

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// simBox is a counter box in a hall: a roller that turns, a clock of its own that is
// off and wraps, a cable that comes out, power that goes, and a wire that spoils what
// is on it. It is written from Protocol and the physics; times are s of the hall.
type simBox struct {
	rng     *rand.Rand
	summed  bool // checksums, counts, hello
	hz      float64
	bits    int // 0 sends them all
	ppm     float64
	joined  int     // passes in a line at most
	runs    float64 // s for which it runs
	turns   float64 // passes a second
	startAt float64 // the start signal; 0 is none
	// Faults: rates a line, and instants.
	garbled, cut, merged, gone float64
	spoilFrom, spoilTo         float64
	restarts                   [][2]float64 // off, on again
	cableOut                   [][2]float64
	first                      uint64 // ticks of the clock at the beginning
}

// wireLine is a line as it came out of the wire.
type wireLine struct {
	bytes   string
	at      float64 // arrival, s
	passes  []truePass
	intact  bool // as it was sent, and alone
	kind    Kind
	lost    bool // nothing of it arrives
	written string
}

// truePass is one pass that there was.
type truePass struct {
	epoch int
	us    int64 // of the box's clock without wraps, in its epoch
	at    float64
}

// truth is what there was in the hall.
type truth struct {
	passes []truePass
	lines  []wireLine
	epochs []float64 // where in the hall's time each clock began
	starts []int64
}

// play lets the box run.
func (b simBox) play() truth {
	var out truth
	boot := uint32(b.rng.Uint32())
	epoch, began, first := 0, 0.0, b.first
	out.epochs = []float64{0}
	count := 0
	ticksAt := func(at float64) uint64 {
		return first + uint64(math.Floor((at-began)*b.hz*(1+b.ppm*1e-6)))
	}
	shown := func(ticks uint64) uint64 {
		if b.bits == 0 || b.bits == 64 {
			return ticks
		}
		return ticks & (1<<b.bits - 1)
	}
	us := func(ticks uint64) int64 {
		// Exact: the whole seconds and the rest apart.
		hz := uint64(b.hz)
		return int64(ticks/hz*1_000_000 + ticks%hz*1_000_000/hz)
	}
	send := func(at float64, body string, kind Kind, passes []truePass) {
		if b.summed {
			body = fmt.Sprintf("%s*%04X", body, crcByTheBook(body))
		}
		out.lines = append(out.lines, wireLine{written: body, at: at, passes: slices.Clone(passes), kind: kind, intact: true})
	}
	hello := func(at float64) {
		if b.summed {
			send(at, fmt.Sprintf("box v1 boot=%d bits=%d hz=%.0f sum=1", boot, b.bits, b.hz), Hello, nil)
		}
	}
	var pending []truePass
	var pendingTicks []uint64
	flush := func(at float64) {
		if len(pending) == 0 {
			return
		}
		body := fmt.Sprint(shown(pendingTicks[0]))
		for i := 1; i < len(pendingTicks); i++ {
			body += fmt.Sprintf("+%d", pendingTicks[i]-pendingTicks[i-1])
		}
		if b.summed {
			body = fmt.Sprintf("%d@%s", (count-len(pending))&0xffff, body)
		}
		send(at, body, Pass, pending)
		pending, pendingTicks = nil, nil
	}
	now := func(at float64) {
		if b.summed {
			send(at, fmt.Sprintf("now %d@%d", count&0xffff, shown(ticksAt(at))), Now, nil)
		} else {
			send(at, fmt.Sprintf("now %d", shown(ticksAt(at))), Now, nil)
		}
	}
	hello(0)
	nextSecond, nextPass, started := 0.5, 0.2+b.rng.Float64()/b.turns, b.startAt == 0
	off := 0
	for {
		at := min(nextSecond, nextPass)
		if !started {
			at = min(at, b.startAt)
		}
		if off < len(b.restarts) && at >= b.restarts[off][0] {
			pending, pendingTicks = nil, nil // what was not sent is gone with the power
			epoch, began, first, count = epoch+1, b.restarts[off][1], uint64(b.rng.IntN(5000)), 0
			boot++
			out.epochs = append(out.epochs, began)
			hello(began + 0.001)
			nextSecond = began + 1
			for nextPass < began+0.002 {
				nextPass += (0.95 + 0.1*b.rng.Float64()) / b.turns
			}
			off++
			continue
		}
		if at > b.runs {
			break
		}
		switch {
		case !started && at == b.startAt:
			started = true
			flush(at)
			out.starts = append(out.starts, us(ticksAt(at)))
			send(at, fmt.Sprintf("start %d", shown(ticksAt(at))), Start, nil)
		case at == nextPass:
			ticks := ticksAt(at)
			p := truePass{epoch, us(ticks), at}
			out.passes = append(out.passes, p)
			pending, pendingTicks = append(pending, p), append(pendingTicks, ticks)
			count++
			if len(pending) >= b.joined {
				flush(at)
			}
			nextPass += (0.95 + 0.1*b.rng.Float64()) / b.turns
		default:
			flush(at)
			hello(at)
			now(at)
			nextSecond++
		}
	}
	b.overTheWire(&out)
	return out
}

// overTheWire spoils lines and lets them arrive: after 1 to 20 ms, in order.
func (b simBox) overTheWire(out *truth) {
	arrived := 0.0
	for i := range out.lines {
		l := &out.lines[i]
		l.bytes = l.written + "\r\n"
		l.at = max(arrived, l.at+0.001+0.019*b.rng.Float64()*b.rng.Float64())
		arrived = l.at
		if b.spoilTo > 0 && (l.at < b.spoilFrom || l.at > b.spoilTo) {
			continue
		}
		text := l.written
		switch u := b.rng.Float64(); {
		case u < b.garbled:
			bytes := []byte(text)
			for range 1 + b.rng.IntN(3) {
				k := b.rng.IntN(len(bytes))
				if b.rng.IntN(2) == 0 {
					bytes[k] = byte('0' + b.rng.IntN(10))
				} else {
					bytes[k] ^= 1 << b.rng.IntN(8)
				}
			}
			l.bytes, l.intact = string(bytes)+"\r\n", string(bytes) == text
		case u < b.garbled+b.cut:
			k := 1 + b.rng.IntN(len(text))
			if b.rng.IntN(2) == 0 {
				l.bytes = text[k:] + "\r\n"
			} else {
				l.bytes = text[:len(text)-k] + "\r\n"
			}
			l.intact = false
		case u < b.garbled+b.cut+b.merged && i+1 < len(out.lines):
			l.bytes, l.intact = text, false // the line end is lost: it runs into the next
		case u < b.garbled+b.cut+b.merged+b.gone:
			l.bytes, l.intact = "", false
		}
	}
	open := false // what a line without an end runs into is spoiled too
	for i := range out.lines {
		l := &out.lines[i]
		if l.bytes == "" {
			continue
		}
		l.intact = l.intact && !open
		open = !strings.HasSuffix(l.bytes, "\n")
	}
	for i := range out.lines {
		l := &out.lines[i]
		for _, c := range b.cableOut {
			if l.at >= c[0] && l.at < c[1] {
				l.bytes, l.intact, l.lost = "", false, true
			}
		}
	}
	for _, c := range b.cableOut { // the plug goes in the middle of a line, and comes back in one
		for i := range out.lines {
			l := &out.lines[i]
			if l.at >= c[1] && !l.lost {
				if k := b.rng.IntN(len(l.bytes) + 1); k > 0 {
					l.bytes, l.intact = l.bytes[k:], false
				}
				if i+1 < len(out.lines) && !strings.HasSuffix(l.bytes, "\n") {
					out.lines[i+1].intact = out.lines[i+1].intact && l.bytes == ""
				}
				break
			}
		}
	}
}

// crcByTheBook is the checksum of the protocol as the catalogue describes it: the
// remainder of long division by x^16+x^12+x^5+1, the register preset to ones, bit
// for bit. It shares nothing with the program.
func crcByTheBook(text string) uint16 {
	var bits []byte
	for i := range len(text) {
		for k := 7; k >= 0; k-- {
			bits = append(bits, text[i]>>k&1)
		}
	}
	bits = append(bits, make([]byte, 16)...)
	for i := range 16 { // the preset, as bits that are added to the first sixteen
		bits[i] ^= 1
	}
	divisor := []byte{1, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1}
	for i := 0; i+16 < len(bits); i++ {
		if bits[i] == 1 {
			for k, d := range divisor {
				bits[i+k] ^= d
			}
		}
	}
	var out uint16
	for _, bit := range bits[len(bits)-16:] {
		out = out<<1 | uint16(bit)
	}
	return out
}
