package measure

import (
	"math"
	"testing"

	"benchmeet/domain/simulate"
)

// steady returns n stamps at 10,000 rpm from a first one.
func steady(first int64, n int) []int64 {
	stamps := make([]int64, n)
	for i := range stamps {
		stamps[i] = first + 6000*int64(i)
	}
	return stamps
}

func TestEndsAreInterpolated(t *testing.T) {
	at := func(us int64) *int64 { return &us }
	s := func(x float64) *float64 { return &x }
	bench := Bench{CircumferenceMM: 100}
	tests := []struct {
		name   string
		race   Race
		stamps []int64
		turns  float64
	}{
		{"between stamps at both ends", Race{StartUS: at(103_000), DurationS: s(0.6)}, steady(1000, 200), 100},
		{"start on a stamp, end between", Race{StartUS: at(103_000), DurationS: s(0.603)}, steady(1000, 200), 100.5},
		{"start between, end on a stamp", Race{StartUS: at(100_000), DurationS: s(0.603)}, steady(1000, 200), 100.5},
		{"start only: the end is the last stamp", Race{StartUS: at(100_000)}, steady(1000, 101), 84 - 0.5},
		{"duration only: the start is the first stamp", Race{DurationS: s(0.3)}, steady(1000, 200), 50},
		{"the end after the last stamp", Race{StartUS: at(103_000), DurationS: s(0.6)}, steady(1000, 117), 99 + 1},
		{"the end half a turn after the last stamp", Race{StartUS: at(106_000), DurationS: s(0.6)}, steady(1000, 118), 99.5 + 0.5},
		{"at most one turn after the last stamp", Race{StartUS: at(103_000), DurationS: s(0.607)}, steady(1000, 117), 99 + 1},
		{"at most one turn before the first stamp", Race{StartUS: at(1000), DurationS: s(0.3)}, steady(103_000, 200), 1 + 33},
		{"a stop is half a turn, give or take the other half", Race{StartUS: at(103_000), DurationS: s(5)}, steady(1000, 118), 100.5},
		{"nothing in the race", Race{StartUS: at(5_000_000), DurationS: s(5)}, steady(1000, 118), 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := measured(t, Setup{Bench: bench, Race: tt.race}, tt.stamps)
			if math.Abs(m.Turns-tt.turns) > 0.001 || !closeTo(m.DistanceM, m.Turns*0.1, 1e-12) {
				t.Errorf("%v turns, %v m; want %v turns", m.Turns, m.DistanceM, tt.turns)
			}
		})
	}
}

// TestRaceByDistance lets the time count.
func TestRaceByDistance(t *testing.T) {
	t.Run("steady", func(t *testing.T) {
		distance := 1.25
		// 12.5 turns of 100 mm at 6 ms each.
		m := measured(t, Setup{Bench: Bench{CircumferenceMM: 100}, Race: Race{DistanceM: &distance}}, steady(1000, 50))
		if !closeTo(m.TimeS, 0.075, 1e-9) || m.DistanceM != distance || m.Turns != 12.5 || len(m.Flags) != 0 {
			t.Errorf("got %+v, want 75 ms for 12.5 turns", m)
		}
	})
	t.Run("not reached", func(t *testing.T) {
		distance := 20.0
		m := measured(t, Setup{Bench: Bench{CircumferenceMM: 100}, Race: Race{DistanceM: &distance}}, steady(1000, 50))
		if m.TimeS != 0 || len(m.Flags) != 1 || m.Flags[0].Code != NotReached {
			t.Errorf("got %+v, want the distance flagged as not reached", m)
		}
	})
	t.Run("covered", func(t *testing.T) {
		const n = 1000
		good := 0
		for i := range n {
			p := randomTrain(i, 6)
			train := simulate.Run(p)
			// What the roller really did in six seconds is set as the distance:
			// it must have taken six seconds.
			distance := train.Truth.DistanceM
			start := p.StartUS
			p.TailS = 1
			m := measured(
				t, Setup{Bench: Bench{CircumferenceMM: nominalMM}, Race: Race{StartUS: &start, DistanceM: &distance}}, simulate.Run(p).Stamps,
			)
			if math.Abs(m.TimeS-6) <= m.Time.Half {
				good++
			}
		}
		if good < 930 || good > 970 {
			t.Errorf("the 95 %% interval covers %d of %d", good, n)
		}
	})
}

func TestLapsAndFactor(t *testing.T) {
	setup := Setup{Bench: Bench{CircumferenceMM: 94.25, Factor: 1.0025, FactorUncertainty: 0.002, FactorDegrees: 5}, Race: Race{LapM: 0.377}}
	m := measured(t, setup, steady(1000, 41))
	// 3.77 m read, 0.25 % too much: a hair less than ten laps.
	if m.RawDistanceM != 3.77 || !closeTo(m.DistanceM, 3.77/1.0025, 1e-12) || m.Laps != 9 {
		t.Errorf("got %+v", m)
	}
	if !closeTo(m.Distance.Standard, m.DistanceM*0.002/1.0025, 1e-9) || m.Distance.Degrees != 5 {
		t.Errorf("uncertainty %+v", m.Distance)
	}
	// Student's t for 5 degrees of freedom and 95 % is 2.571 (GUM table G.2).
	if !closeTo(m.Distance.Half/m.Distance.Standard, 2.571, 1e-3) {
		t.Errorf("coverage factor %v", m.Distance.Half/m.Distance.Standard)
	}
	setup.Bench.Factor = 1
	if m := measured(t, setup, steady(1000, 41)); m.Laps != 10 {
		t.Errorf("%d laps, want 10: a full lap is a full lap", m.Laps)
	}
}

// TestTurnedBeforeTheStart turns the roller by hand long before the start: that
// is no early start, and the run begins from rest.
func TestTurnedBeforeTheStart(t *testing.T) {
	for seed := range uint64(20) {
		p := simulate.Usual(seed, 8000, 10)
		p.StartUS = 20_000_000
		train := simulate.Run(p)
		byHand := []int64{1_000_000, 1_400_000, 1_750_000, 2_100_000, 2_500_000}
		m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), append(byHand, train.Stamps...))
		if d := m.Turns - train.Truth.Turns; d > 0.2 || d < -0.2 {
			t.Errorf("seed %d: %v turns, truth %v", seed, m.Turns, train.Truth.Turns)
		}
		for _, f := range m.Flags {
			if f.Code != Bridged {
				t.Errorf("seed %d: flag %s", seed, f.Says())
			}
		}
	}
}
