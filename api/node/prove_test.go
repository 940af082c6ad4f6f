package node

import (
	"log/slog"
	"os"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/node/nodetest"
)

// share is how many of a number of simulated runs are made: all in "make prove".
func share(all, part int) int {
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		return all
	}
	return part
}

// drive lets a bench's runs hear what comes over the wire, on a clock of its own.
func drive(h nodetest.Hall, t nodetest.Truth) (kept [][]byte, closed float64) {
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
	order := gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindHeat, Run: &run, RaceS: &h.Race, State: &racing}
	var lines splitter
	cut, asked := 0.25, 0.0
	out := 0
	step := func(to float64) {
		for {
			next := min(cut, asked)
			if out < len(h.CableOut) {
				next = min(next, h.CableOut[out][0])
			}
			if next > to {
				now = to
				return
			}
			now = next
			switch {
			case out < len(h.CableOut) && next == h.CableOut[out][0]:
				lines = splitter{}
				r.box.closed()
				out++
			case next == cut:
				if err := r.cut(instant(now)); err != nil {
					panic(err)
				}
				cut += 0.5
			default:
				if now >= h.Orders {
					r.obey(order, 20*time.Millisecond, instant(now))
				}
				asked += 0.05
			}
		}
	}
	for _, l := range t.Lines {
		step(l.At)
		lines.feed([]byte(l.Bytes), func(text string) { r.box.line(text, instant(now)) })
	}
	step(h.Runs + 5)
	return kept, closed
}

// began is when the server is asked next at or after an instant, every 50 ms.
func began(orders float64) float64 {
	asked := 0.0
	for asked < orders {
		asked += 0.05
	}
	return asked
}

// TestProveEachRunOnce: over wraps, spoiled, joined, cut and lost lines, re-plugged
// cables and restarts of the box, every run that there was comes out once, with every
// pass whose line came whole, with a word on what is missing, and with no stamp of a
// line whose checksum was wrong.
func TestProveEachRunOnce(t *testing.T) {
	failed := 0
	for seed := range uint64(share(10_000, 1_500)) {
		h := nodetest.Made(seed)
		truth := h.Play()
		kept, closed := drive(h, truth)
		if err := h.Judge(truth, kept, nodetest.Window{From: began(h.Orders), To: closed}); err != nil {
			kind := "plain"
			if h.Summed {
				kind = "with checksums"
			}
			t.Errorf("seed %d, %s, %s: %v", seed, h.Name, kind, err)
			if failed++; failed > 20 {
				t.FailNow()
			}
		}
	}
}
