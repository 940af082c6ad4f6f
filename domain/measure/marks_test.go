package measure

import (
	"testing"

	"benchmeet/domain/simulate"
)

// TestUnequalMarks measures rollers whose marks are far from equal: with their
// angles the turns are exact whatever mark came first; a few per cent of
// inequality need no angles at all.
func TestUnequalMarks(t *testing.T) {
	tests := []struct {
		name   string
		angles []float64 // of the roller
		stated bool
	}{
		{"two marks at 0 and 100 degrees", []float64{0, 100}, true},
		{"three marks", []float64{0, 90, 250}, true},
		{"four marks 2 % off, not stated", []float64{0, 88.2, 181.8, 268.2}, false},
		{"four marks 2 % off, stated", []float64{0, 88.2, 181.8, 268.2}, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for seed := range uint64(40) {
				p := simulate.Usual(seed, 4000+200*float64(seed), 10)
				p.MarkAngles = tt.angles
				p.MissRate, p.DoubleRate = 0.01, 0.02
				train := simulate.Run(p)
				bench := Bench{CircumferenceMM: nominalMM, MarksPerTurn: len(tt.angles)}
				if tt.stated {
					bench.MarkAngles = tt.angles
				}
				m := measured(t, timed(bench, p), train.Stamps)
				if d := m.Turns - train.Truth.Turns; d > 0.25 || d < -0.25 {
					t.Errorf("seed %d: %v turns, truth %v, %v", seed, m.Turns, train.Truth.Turns, m.Flags)
				}
				if r := m.MaxRPM / train.Truth.MaxRPM; r > 1.01 || r < 0.97 {
					t.Errorf("seed %d: top speed %v of the truth", seed, r)
				}
			}
		})
	}
}
