package node

import (
	"fmt"
	"log/slog"
	"strings"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/trace"
)

// kept makes runs whose chunks are written down, and an order of a race of five
// seconds.
func kept(t *testing.T) (*runs, gen.BenchOrder, func() (stamps []int64, totals []trace.Totals)) {
	t.Helper()
	var bodies [][]byte
	r := newRuns(1, slog.New(slog.DiscardHandler), func(body []byte, _ *openRun) error {
		bodies = append(bodies, body)
		return nil
	})
	run, race := "practice-b1-1", 5.0
	order := gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindPractice, Run: &run, RaceS: &race}
	return r, order, func() (stamps []int64, totals []trace.Totals) {
		for _, body := range bodies {
			c, err := wire.ReadChunk("b1", body)
			if err != nil {
				t.Fatal(err)
			}
			stamps = append(stamps, c.Stamps...)
			if c.Last != nil {
				totals = append(totals, *c.Last)
			}
		}
		return stamps, totals
	}
}

// TestRestartIsPlacedByItsQuickestLine: the first line behind a restart was held up
// by 180 ms, those behind it were not.
func TestRestartIsPlacedByItsQuickestLine(t *testing.T) {
	r, order, read := kept(t)
	at := func(ms int) time.Time { return morning.Add(time.Duration(ms) * time.Millisecond) }
	for ms := 0; ms < 8000; ms += 20 {
		switch {
		case ms == 1000:
			r.obey(order, 0, at(ms))
		case ms%500 == 240:
			if err := r.cut(at(ms)); err != nil {
				t.Fatal(err)
			}
		}
		switch {
		case ms < 3000:
			r.box.line(fmt.Sprint(700_000_000+ms*1000), at(ms+1))
		case ms >= 4000: // the box is on again since 3900
			r.box.line(fmt.Sprint((ms-3900)*1000), at(ms+1+max(0, 4180-ms)))
		}
	}
	stamps, totals := read()
	if len(totals) != 1 || len(totals[0].RestartsUS) != 1 {
		t.Fatalf("the totals are %+v", totals)
	}
	// Its first line was stamped 100 ms after it was on: 4000 ms after the beginning.
	if got := totals[0].RestartsUS[0]; got < 703_999_000 || got > 704_001_000 {
		t.Errorf("the restart is placed at %d µs, it was at 704000000", got)
	}
	for i := 1; i < len(stamps); i++ {
		if step := stamps[i] - stamps[i-1]; step != 20_000 && (step < 1_018_000 || step > 1_022_000) {
			t.Errorf("from %d to the next are %d µs", stamps[i-1], step)
		}
	}
}

// TestTheBoxsSignalHasItsTime: the start signal comes two seconds after the server's
// word, and the race of five seconds is whole.
func TestTheBoxsSignalHasItsTime(t *testing.T) {
	r, order, read := kept(t)
	over := 0
	for ms := 0; ms < 12_000; ms += 10 {
		now := morning.Add(time.Duration(ms) * time.Millisecond)
		us := 50_000_000 + ms*1000
		switch ms {
		case 1000:
			r.obey(order, 0, now)
		case 3000:
			r.box.line(fmt.Sprintf("start %d", us), now)
		}
		r.box.line(fmt.Sprint(us), now)
		if ms%100 == 50 {
			on := r.now != nil
			if err := r.cut(now); err != nil {
				t.Fatal(err)
			}
			if on && r.now == nil {
				over = ms
			}
		}
	}
	stamps, totals := read()
	if len(totals) != 1 || totals[0].StartUS != 53_000_000 || totals[0].StartSource != trace.StartBenchClock {
		t.Fatalf("the totals are %+v", totals)
	}
	if last := stamps[len(stamps)-1]; last < 58_000_000 {
		t.Errorf("the last stamp is %d, the race lasted to 58000000", last)
	}
	// It is over once the box has shown a time behind the end, and not long after.
	if over < 8_000 || over > 8_500 {
		t.Errorf("the run was closed at %d ms", over)
	}
}

// TestASilentBoxEndsItsRun: where no line comes at all, the run is closed all the
// same, without a start.
func TestASilentBoxEndsItsRun(t *testing.T) {
	r, order, read := kept(t)
	r.obey(order, 0, morning)
	for ms := 0; ms < 8000; ms += 500 {
		if err := r.cut(morning.Add(time.Duration(ms) * time.Millisecond)); err != nil {
			t.Fatal(err)
		}
	}
	stamps, totals := read()
	if len(stamps) != 0 || len(totals) != 1 || totals[0].StartSource != trace.StartNone {
		t.Errorf("%d stamps, totals %+v", len(stamps), totals)
	}
}

// TestARunThatCannotBeSentIsNotBegun: its chunks would be refused one by one, and stay on
// the node's disk for ever.
func TestARunThatCannotBeSentIsNotBegun(t *testing.T) {
	r, order, _ := kept(t)
	for _, id := range []string{"", "-a", "a b", strings.Repeat("r", 129)} {
		order.Run = &id
		if r.obey(order, 0, time.Now()) {
			t.Errorf("%q is begun", id)
		}
	}
	longest := strings.Repeat("r", 128)
	if order.Run = &longest; !r.obey(order, 0, time.Now()) {
		t.Error("the longest is not begun")
	}
}
