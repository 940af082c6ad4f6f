package nodetest

import (
	"encoding/json"
	"fmt"
	"slices"

	"benchmeet/domain/trace"
)

// Window is what a judge has to know of a run.
type Window struct {
	// From and To are the instants between which every line that came whole counts.
	From, To float64
	// Loose widens what is known of the instants: the node opened the port, began and
	// ended when it got to it. What is told to be lost is then not counted to the pass.
	Loose bool
	// Blind are stretches in which the node may not have been there to hear.
	Blind [][2]float64
}

func (w Window) sees(at float64) bool {
	for _, b := range w.Blind {
		if at >= b[0] && at <= b[1] {
			return false
		}
	}
	return at > w.From && at <= w.To
}

// Judge compares the chunks that were kept with what there was: one run, every pass
// whose line came whole, no stamp that no pass made (of a box with checksums; of one
// without, no more than lines were spoiled), each restart, and a word on what is
// missing. It says what is wrong.
func (h Box) Judge(t Truth, kept [][]byte, w Window) error {
	var stored []trace.Stored
	lasts := 0
	for _, body := range kept {
		var c struct {
			Boot   string        `json:"boot"`
			Run    string        `json:"run"`
			Number int           `json:"number"`
			Stamps []int64       `json:"stamps_us"`
			Last   *trace.Totals `json:"last"`
		}
		if err := json.Unmarshal(body, &c); err != nil {
			return err
		}
		chunk := trace.Chunk{Key: trace.Key{Bench: "b1", Boot: c.Boot, Run: c.Run, Number: c.Number}, Stamps: c.Stamps, Last: c.Last}
		if err := chunk.Check(); err != nil {
			return err
		}
		if c.Last != nil {
			lasts++
		}
		stored = append(stored, chunk.Pack())
	}
	if lasts != 1 {
		return fmt.Errorf("%d runs came out", lasts)
	}
	train, err := trace.Join(stored)
	if err != nil {
		return err
	}
	totals := train.Totals
	if len(totals.RestartsUS) != len(h.Restarts) {
		return fmt.Errorf("%d restarts are told", len(totals.RestartsUS))
	}

	// What must have come: the passes of lines that came whole while the run was on.
	must := map[Pass]bool{}
	spoiled := 0 // lines with passes that came, and not whole
	missing := 0 // passes whose lines did not come whole
	words := 0   // lines without passes that came and were spoiled: they might have been passes
	for _, l := range t.Lines {
		if !l.Intact && len(l.Passes) == 0 {
			words++
		}
		if l.At <= w.From && !l.Intact {
			missing += len(l.Passes) // known when the next one comes, which may be in the run
		}
		if !w.sees(l.At) {
			continue
		}
		for _, p := range l.Passes {
			if l.Intact {
				must[p] = true
			} else {
				missing++
			}
		}
		if !l.Intact && l.Bytes != "" && len(l.Passes) > 0 {
			spoiled++
		}
	}

	// What came, told apart by clock; the clocks of later epochs are set behind by a
	// number that the arrivals give.
	got := map[Pass]bool{}
	wrong := 0
	split := len(train.Stamps)
	if len(totals.RestartsUS) == 1 {
		split, _ = slices.BinarySearch(train.Stamps, totals.RestartsUS[0])
	}
	for epoch, stamps := range [][]int64{train.Stamps[:split], train.Stamps[split:]} {
		all := map[int64]Pass{}
		var firsts []int64
		for _, p := range t.Passes {
			if p.Epoch == epoch {
				all[p.US] = p
				firsts = append(firsts, p.US)
			}
		}
		if len(stamps) == 0 {
			continue
		}
		offset := int64(0)
		if epoch > 0 {
			// The wall decides where the new clock has to lie: within what lines are late.
			best := -1
			for _, f := range firsts[:min(len(firsts), 200)] {
				for _, s := range stamps[:min(len(stamps), 4)] {
					hits := 0
					for _, x := range stamps {
						if _, is := all[x-(s-f)]; is {
							hits++
						}
					}
					if hits > best {
						best, offset = hits, s-f
					}
				}
			}
			// In the first clock's µs, the second began at:
			scale := 1 + h.PPM*1e-6
			should := int64(float64(h.First)/h.Hz*1e6 + t.Epochs[1]*1e6*scale)
			// A spoiled number of a box without checksums may agree with the next two, and
			// then it is the one that is placed.
			most := int64(60_000)
			if !h.Summed && h.Garbled > 0 {
				most = 1_100_000
			} else if w.Loose {
				most = 250_000 // a busy computer, faster than life
			}
			if off := offset - should; off < -most || off > most {
				return fmt.Errorf("the clock after the restart is set %d µs off", off)
			}
		}
		for _, s := range stamps {
			if p, is := all[s-offset]; is {
				got[p] = true
			} else {
				wrong++
			}
		}
	}
	lost := 0
	for p := range must {
		if !got[p] {
			lost++
		}
	}
	switch {
	case h.Summed && wrong > 0:
		return fmt.Errorf("%d stamps that no pass made", wrong)
	case wrong > spoiled:
		return fmt.Errorf("%d stamps that no pass made, of %d spoiled lines", wrong, spoiled)
	case h.Summed && lost > 0:
		return fmt.Errorf("%d passes that came whole are not there", lost)
	case lost > 8*spoiled:
		return fmt.Errorf("%d passes that came whole are not there, with %d spoiled lines", lost, spoiled)
	}
	// What is lost is said.
	between := 0
	if h.Summed && len(h.Restarts) == 0 && len(train.Stamps) > 0 {
		from, to := train.Stamps[0], train.Stamps[len(train.Stamps)-1]
		for _, p := range t.Passes {
			if p.US >= from && p.US <= to && !got[p] {
				between++
			}
		}
		if totals.Lost < between || totals.Lost > between+missing && !w.Loose {
			return fmt.Errorf("%d passes are told to be lost, %d are", totals.Lost, between)
		}
	}
	if missing+words == 0 && len(h.Restarts)+len(h.CableOut) == 0 && totals.Lost > 0 {
		return fmt.Errorf("%d passes are told to be lost, none is", totals.Lost)
	}
	if !h.Summed && (len(h.CableOut) > 0 || spoiled > wrong+5) && totals.Lost == 0 {
		return fmt.Errorf("%d lines were spoiled and nothing is told to be lost", spoiled)
	}
	if h.StartAt > 0 && totals.StartSource == trace.StartBenchClock && !slices.Contains(t.Starts, totals.StartUS) && h.Summed {
		return fmt.Errorf("the start is %d, it was %v", totals.StartUS, t.Starts)
	}
	if totals.StartSource == trace.StartNone {
		return fmt.Errorf("there is no start")
	}
	return nil
}
