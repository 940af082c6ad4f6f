package measure

import (
	"math"
	"slices"
	"testing"

	"benchmeet/domain/simulate"
)

// TestWrapsAnywhere puts the wrap of a 32-bit counter everywhere about a race: the
// measurement is that of a counter that does not wrap.
func TestWrapsAnywhere(t *testing.T) {
	p := simulate.Usual(5, 9000, 10)
	p.ReactionS = 0.3
	train := simulate.Run(p)
	bench := Bench{CircumferenceMM: nominalMM, ClockBits: 32}
	byHand := []int64{400_000, 900_000, 1_300_000} // before the start
	for name, stamps := range map[string][]int64{"from rest": train.Stamps, "turned by hand": append(byHand, train.Stamps...)} {
		t.Run(name, func(t *testing.T) { wrapsAnywhere(t, bench, p, stamps) })
	}
}

func wrapsAnywhere(t *testing.T, bench Bench, p simulate.Params, stamps []int64) {
	t.Helper()
	want := measured(t, timed(bench, p), stamps)
	for name, at := range map[string]int64{
		"before the turns by hand":              200_000,
		"between these and the start":           1_600_000,
		"between the start and the first stamp": p.StartUS + 100_000,
		"in the rise":                           p.StartUS + 700_000,
		"in the race":                           p.StartUS + 5_000_000,
		"between the last stamp and the end":    p.StartUS + 10_000_000 - 1000,
		"on the start":                          p.StartUS,
	} {
		t.Run(name, func(t *testing.T) {
			wrap := func(us int64) int64 { return (us - at + 1<<32) & (1<<32 - 1) }
			moved := make([]int64, len(stamps))
			for i, s := range stamps {
				moved[i] = wrap(s)
			}
			setup := timed(bench, p)
			*setup.Race.StartUS = wrap(*setup.Race.StartUS)
			got := measured(t, setup, moved)
			if !closeTo(got.Turns, want.Turns, 1e-12) || !closeTo(got.Distance.Half, want.Distance.Half, 1e-9) ||
				!slices.Equal(codes(got), codes(want)) {
				t.Errorf("%v turns give or take %v, %v; want %v, %v, %v",
					got.Turns, got.Distance.Half, codes(got), want.Turns, want.Distance.Half, codes(want))
			}
		})
	}
}

// TestACounterOf16Bits: the gaps of the first turns are longer than its range, so
// that nobody can say how many wraps they hold.
func TestACounterOf16Bits(t *testing.T) {
	p := simulate.Usual(5, 9000, 10)
	train := simulate.Run(p)
	setup := timed(Bench{CircumferenceMM: nominalMM, ClockBits: 16, StampUS: 1}, p)
	for i, s := range train.Stamps {
		train.Stamps[i] = s & (1<<16 - 1)
	}
	*setup.Race.StartUS &= 1<<16 - 1
	m := measured(t, setup, train.Stamps)
	if !m.Distance.None || !slices.Contains(codes(m), ClockAmbiguous) || !slices.Contains(codes(m), NoInterval) {
		t.Errorf("an interval of %v m is claimed, flags %v", m.Distance.Half, codes(m))
	}
}

// TestOneGarbledStamp puts one number far ahead among good ones: it neither ends the
// run nor feigns a wrap.
func TestOneGarbledStamp(t *testing.T) {
	p := simulate.Usual(5, 9000, 10)
	train := simulate.Run(p)
	setup := timed(Bench{CircumferenceMM: nominalMM}, p)
	want := measured(t, setup, train.Stamps)
	for _, garbled := range []int64{15_000_000, 90_000_000, 2_200_000_000, 4_200_000_000} {
		spoiled := slices.Insert(slices.Clone(train.Stamps), 400, garbled)
		got := measured(t, setup, spoiled)
		if math.Abs(got.Turns-want.Turns) > 1e-9 || got.Wraps != 0 {
			t.Errorf("with %d: %v turns and %d wraps, want %v and none", garbled, got.Turns, got.Wraps, want.Turns)
		}
		if !slices.Contains(codes(got), Impossible) {
			t.Errorf("with %d: flags %v do not tell of it", garbled, codes(got))
		}
	}
}
