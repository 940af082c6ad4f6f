package measure

import (
	"math"
	"slices"
	"testing"

	"benchmeet/domain/simulate"
)

// TestAskewMarks: two marks that stand 2.5 % of a turn off opposite give gaps of
// 0.475 and 0.525 of a turn, from a formula without noise: 8,640 rpm at an even pace
// for ten seconds are 1,440 turns.
func TestAskewMarks(t *testing.T) {
	const turnUS = 60e6 / 8640
	for _, off := range []float64{0.005, 0.015, 0.02, 0.025, 0.03} {
		var stamps []int64
		for k := range 3000 {
			angle := float64(k/2) + float64(k%2)*(0.5+off)
			stamps = append(stamps, 1_000_000+int64(math.Round((angle-2.3)*turnUS)))
		}
		start, seconds := int64(1_000_000), 10.0
		m := measured(t, Setup{Bench: Bench{CircumferenceMM: 100, MarksPerTurn: 2}, Race: Race{StartUS: &start, DurationS: &seconds}}, stamps)
		if math.Abs(m.Turns-1440) > 0.002 || m.Extra != 0 || m.Bridged != 0 {
			t.Errorf("%v of a turn off: %v turns, %d extra, %d bridged", off, m.Turns, m.Extra, m.Bridged)
		}
	}
}

// TestFourAskewMarks lets four marks stand up to 3 % of a turn off, so that one gap
// may be near twice the next.
func TestFourAskewMarks(t *testing.T) {
	for seed := range uint64(60) {
		r := simulate.Source(simulate.Key(seed, "askew"))
		p := simulate.Usual(seed, 2000+300*float64(seed), 10)
		p.MissRate, p.DoubleRate = 0.01, 0.02
		for i := range 4 {
			p.MarkAngles = append(p.MarkAngles, 90*float64(i))
			if i > 0 {
				p.MarkAngles[i] += 10.8 * (2*r.Float64() - 1)
			}
		}
		train := simulate.Run(p)
		m := measured(t, timed(Bench{CircumferenceMM: nominalMM, MarksPerTurn: 4}, p), train.Stamps)
		if d := m.Turns - train.Truth.Turns; math.Abs(d) > 0.15 && !covers(m, train.Truth.DistanceM) {
			t.Errorf("seed %d: %v turns, truth %v, %v", seed, m.Turns, train.Truth.Turns, codes(m))
		}
	}
}

// TestASilentMark: of three marks one is never seen, so that the gaps are a third and
// two thirds of a turn.
func TestASilentMark(t *testing.T) {
	for seed := range uint64(30) {
		p := simulate.Usual(seed, 6000+200*float64(seed), 10)
		p.MarkAngles = []float64{0, 120}
		p.MissRate, p.DoubleRate = 0, 0
		train := simulate.Run(p)
		m := measured(t, timed(Bench{CircumferenceMM: nominalMM, MarksPerTurn: 3}, p), train.Stamps)
		if d := m.Turns - train.Truth.Turns; math.Abs(d) > 0.2 || !slices.Contains(codes(m), MarkSilent) {
			t.Errorf("seed %d: %v turns, truth %v, %v", seed, m.Turns, train.Truth.Turns, codes(m))
		}
	}
}
