package node

import (
	"encoding/json"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/trace"
)

// share is how many of a number of simulated runs are made: all in "make prove".
func share(all, part int) int {
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		return all
	}
	return part
}

// hall is a made-up run: the box, and when the server asks for the run.
type hall struct {
	simBox
	name   string
	orders float64
	race   float64
}

// made draws the run of a seed. The kinds take turns.
func made(seed uint64) hall {
	rng := rand.New(rand.NewPCG(seed, 0xb0c5))
	h := hall{orders: 2 + rng.Float64(), race: 5 + 4*rng.Float64()}
	h.rng = rng
	h.turns = 10 + 160*rng.Float64()
	h.runs = h.orders + h.race + 4
	h.hz, h.joined = 1e6, 1
	h.ppm = []float64{0, 50, -50, 4000, -5000}[rng.IntN(5)]
	h.first = uint64(rng.IntN(100_000_000))
	if rng.IntN(2) == 0 {
		h.startAt = h.orders + 0.1 + 0.5*rng.Float64()
	}
	h.summed = seed%2 == 0
	if h.summed {
		h.hz = []float64{250_000, 1e6, 2e6, 16e6, 11_059_200}[rng.IntN(5)]
		h.bits = []int{32, 32, 24, 48, 64}[rng.IntN(5)]
		h.joined = 1 + rng.IntN(6)
		if h.bits == 24 {
			h.hz = 1e6 // 16.8 s a wrap, the first not before there is a line
			h.first %= 10_000_000
		}
	} else if rng.IntN(3) > 0 {
		h.bits = 32 // else it sends them all
	}
	switch seed / 2 % 8 {
	case 0:
		h.name = "clean"
	case 1:
		h.name = "wrap"
		if h.bits != 0 && h.bits < 64 {
			into := 0.3 + h.race*rng.Float64()
			h.first = 1<<h.bits - uint64((h.orders+into)*h.hz)
		} else {
			h.first = 1<<32 - uint64((h.orders+1)*h.hz) // no wrap: it just goes on
		}
	case 2:
		h.name, h.garbled = "garbled", 0.02
	case 3:
		h.name, h.cut = "cut", 0.02
	case 4:
		h.name, h.merged = "joined", 0.02
	case 5:
		h.name, h.gone = "lost", 0.02
	case 6:
		h.name = "cable"
		out := h.orders + 0.8 + (h.race-3)*rng.Float64()
		h.cableOut = [][2]float64{{out, out + 0.2 + rng.Float64()}}
	case 7:
		h.name = "restart"
		off := h.orders + 0.8 + (h.race-3.5)*rng.Float64()
		h.restarts = [][2]float64{{off, off + 0.05 + rng.Float64()}}
		if rng.IntN(2) == 0 {
			h.name = "restart on a bad wire"
			h.garbled, h.gone, h.merged, h.cut = 0.005, 0.005, 0.005, 0.005
		}
	}
	if h.garbled+h.cut+h.merged+h.gone > 0 {
		h.spoilFrom, h.spoilTo = h.orders, h.orders+h.race-0.5
	}
	if len(h.restarts) > 0 && h.startAt > h.restarts[0][0] {
		h.startAt = 0
	}
	return h
}

// drive lets a bench's runs hear what comes over the wire, on a clock of its own.
func (h hall) drive(t truth) (kept [][]byte, closed float64) {
	origin := time.Date(2031, 5, 3, 9, 0, 0, 0, time.UTC)
	instant := func(s float64) time.Time { return origin.Add(time.Duration(s * float64(time.Second))) }
	now := 0.0
	r := newRuns(1, slog.New(slog.DiscardHandler), func(body []byte, open *openRun) error {
		kept = append(kept, body)
		if open == nil {
			closed = now
		}
		return nil
	})
	run, racing := "junior-1.1.1-L1-1", gen.BenchOrderStateRacing
	order := gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindHeat, Run: &run, RaceS: &h.race, State: &racing}
	var lines splitter
	cut, asked := 0.25, 0.0
	out := 0
	step := func(to float64) {
		for {
			next := min(cut, asked)
			if out < len(h.cableOut) {
				next = min(next, h.cableOut[out][0])
			}
			if next > to {
				now = to
				return
			}
			now = next
			switch {
			case out < len(h.cableOut) && next == h.cableOut[out][0]:
				lines = splitter{}
				r.box.closed()
				out++
			case next == cut:
				if err := r.cut(instant(now)); err != nil {
					panic(err)
				}
				cut += 0.5
			default:
				if now >= h.orders {
					r.obey(order, 20*time.Millisecond, instant(now))
				}
				asked += 0.05
			}
		}
	}
	for _, l := range t.lines {
		step(l.at)
		lines.feed([]byte(l.bytes), func(text string) { r.box.line(text, instant(now)) })
	}
	step(h.runs + 5)
	return kept, closed
}

// judge compares what was kept with what there was. It says what is wrong.
func (h hall) judge(t truth, kept [][]byte, closed float64) error {
	var stored []trace.Stored
	lasts := 0
	for _, body := range kept {
		var c chunkBody
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
	if len(totals.RestartsUS) != len(h.restarts) {
		return fmt.Errorf("%d restarts are told", len(totals.RestartsUS))
	}

	// What must have come: the passes of lines that came whole while the run was on.
	began := 0.05 * float64(int(h.orders/0.05)+1)
	must := map[truePass]bool{}
	spoiled := 0 // lines with passes that came, and not whole
	missing := 0 // passes whose lines did not come whole
	words := 0   // lines without passes that came and were spoiled: they might have been passes
	for _, l := range t.lines {
		if !l.intact && len(l.passes) == 0 {
			words++
		}
		if l.at <= began && !l.intact {
			missing += len(l.passes) // known when the next one comes, which may be in the run
		}
		if l.at <= began || l.at > closed {
			continue
		}
		for _, p := range l.passes {
			if l.intact {
				must[p] = true
			} else {
				missing++
			}
		}
		if !l.intact && l.bytes != "" && len(l.passes) > 0 {
			spoiled++
		}
	}

	// What came, told apart by clock; the clocks of later epochs are set behind by a
	// number that the arrivals give.
	got := map[truePass]bool{}
	wrong := 0
	split := len(train.Stamps)
	if len(totals.RestartsUS) == 1 {
		split, _ = slices.BinarySearch(train.Stamps, totals.RestartsUS[0])
	}
	for epoch, stamps := range [][]int64{train.Stamps[:split], train.Stamps[split:]} {
		all := map[int64]truePass{}
		var firsts []int64
		for _, p := range t.passes {
			if p.epoch == epoch {
				all[p.us] = p
				firsts = append(firsts, p.us)
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
			scale := 1 + h.ppm*1e-6
			should := int64(float64(h.first)/h.hz*1e6 + t.epochs[1]*1e6*scale)
			// A spoiled number of a box without checksums may agree with the next two, and
			// then it is the one that is placed.
			most := int64(60_000)
			if !h.summed && h.garbled > 0 {
				most = 1_100_000
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
	case h.summed && wrong > 0:
		return fmt.Errorf("%d stamps that no pass made", wrong)
	case wrong > spoiled:
		return fmt.Errorf("%d stamps that no pass made, of %d spoiled lines", wrong, spoiled)
	case h.summed && lost > 0:
		return fmt.Errorf("%d passes that came whole are not there", lost)
	case lost > 8*spoiled:
		return fmt.Errorf("%d passes that came whole are not there, with %d spoiled lines", lost, spoiled)
	}
	// What is lost is said.
	between := 0
	if h.summed && len(h.restarts) == 0 && len(train.Stamps) > 0 {
		from, to := train.Stamps[0], train.Stamps[len(train.Stamps)-1]
		for _, p := range t.passes {
			if p.us >= from && p.us <= to && !got[p] {
				between++
			}
		}
		if totals.Lost < between || totals.Lost > between+missing {
			return fmt.Errorf("%d passes are told to be lost, %d are", totals.Lost, between)
		}
	}
	if missing+words == 0 && len(h.restarts)+len(h.cableOut) == 0 && totals.Lost > 0 {
		return fmt.Errorf("%d passes are told to be lost, none is", totals.Lost)
	}
	if !h.summed && (len(h.cableOut) > 0 || spoiled > wrong+5) && totals.Lost == 0 {
		return fmt.Errorf("%d lines were spoiled and nothing is told to be lost", spoiled)
	}
	if h.startAt > 0 && totals.StartSource == trace.StartBenchClock && !slices.Contains(t.starts, totals.StartUS) && h.summed {
		return fmt.Errorf("the start is %d, it was %v", totals.StartUS, t.starts)
	}
	if totals.StartSource == trace.StartNone {
		return fmt.Errorf("there is no start")
	}
	return nil
}

// TestProveEachRunOnce: over wraps, spoiled, joined, cut and lost lines, re-plugged
// cables and restarts of the box, every run that there was comes out once, with every
// pass whose line came whole, with a word on what is missing, and with no stamp of a
// line whose checksum was wrong.
func TestProveEachRunOnce(t *testing.T) {
	failed := 0
	for seed := range uint64(share(10_000, 400)) {
		h := made(seed)
		truth := h.play()
		kept, closed := h.drive(truth)
		if err := h.judge(truth, kept, closed); err != nil {
			kind := "plain"
			if h.summed {
				kind = "with checksums"
			}
			t.Errorf("seed %d, %s, %s: %v", seed, h.name, kind, err)
			if failed++; failed > 20 {
				t.FailNow()
			}
		}
	}
}
