package measure

import (
	"math"
	"testing"

	"benchmeet/domain/simulate"
)

// TestLateStampsOfTheRise holds up stamps of a roller that gains speed as
// 1 - exp(-t/tau), by as much as an interrupt of a busy board may (common practice: to
// 1 ms, more now and then). The passes follow from the formula; each stamp is one.
func TestLateStampsOfTheRise(t *testing.T) {
	const top, tau, seconds = 10_000.0 / 60, 0.4, 10.0 // turns a second, s, s
	way := func(s float64) float64 { return top * (s + tau*math.Expm1(-s/tau)) }
	var passes []float64
	s := 0.0
	for turn := 0.1; ; turn++ {
		for range 50 { // Newton's steps; the slope is the speed
			s -= (way(s) - turn) / max(1, -top*math.Expm1(-s/tau))
		}
		if s > seconds {
			break
		}
		passes = append(passes, s)
	}
	start, duration := int64(1_000_000), seconds
	setup := Setup{Bench: Bench{CircumferenceMM: nominalMM}, Race: Race{StartUS: &start, DurationS: &duration}}
	for first := range 14 {
		for _, apart := range []int{0, 1, 2, 3} {
			for _, late := range []float64{600, 800, 1000, 1200, 1400, 1600, 1800} {
				stamps := make([]int64, len(passes))
				for i, at := range passes {
					if i == first || i == first+apart {
						at += late / 1e6
					}
					stamps[i] = start + int64(math.Round(at*1e6))
				}
				m := measured(t, setup, stamps)
				if math.Abs(m.Turns-way(seconds)) > 0.5 {
					t.Errorf("passes %d and %d held up by %v µs: %v turns; %v went by",
						first, first+apart, late, m.Turns, way(seconds))
				}
			}
		}
	}
}

// TestLateStampsInARow holds up several stamps in a row of a roller at a steady
// 20,000 rpm, each by a time of its own.
func TestLateStampsInARow(t *testing.T) {
	r := simulate.Source(5)
	for i := range 1000 {
		stamps := make([]int64, 400)
		for k := range stamps {
			stamps[k] = 1_000_000 + 3000*int64(k) + r.Int64N(40)
		}
		for k := range 2 + i%3 {
			stamps[200+k] += 100 + r.Int64N(900)
		}
		m := measured(t, Setup{Bench: Bench{CircumferenceMM: nominalMM}}, stamps)
		if m.Turns != 399 {
			t.Errorf("%d: %v turns of 399: %v", i, m.Turns, stamps[199:206])
		}
	}
}
