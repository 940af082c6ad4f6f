package programme

import (
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// TestRunsWithoutAnInterval: what nobody knows the error of cannot be told from
// another distance, and a lopsided interval reaches further on one side.
func TestRunsWithoutAnInterval(t *testing.T) {
	um := func(metres float64) int64 { return int64(metres * 1e6) }
	result := func(f measure.Figures) LaneResult {
		v := (&day.State{}).Value(day.Run{Source: day.SourceBench, Figures: f})
		return LaneResult{DistanceUM: v.Corrected.Corrected, UUM: v.UUM, LowUM: v.LowUM, HighUM: v.HighUM, Valued: true}
	}
	plain := func(metres float64) measure.Figures {
		return measure.Figures{DistanceUM: um(metres), UDistanceUM: 50_000, U95DistanceUM: 98_000}
	}
	untold := plain(200)
	untold.NoInterval, untold.U95DistanceUM = true, 0
	high := plain(200) // ends missed: up to 5 m more
	high.LowUM, high.HighUM, high.U95DistanceUM = um(199.9), um(205), um(2.55)
	tests := []struct {
		name string
		a, b measure.Figures
		want bool
	}{
		{"two that differ plainly", plain(200), plain(203), false},
		{"two that hardly differ", plain(200), plain(200.1), true},
		{"nothing is known of one", untold, plain(203), true},
		{"nothing is known of one, the other way round", plain(230), untold, true},
		{"it may have gone as far as the other", high, plain(203), true},
		{"it cannot have gone as little as the other", high, plain(197), false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			for _, pair := range [][2]measure.Figures{{tt.a, tt.b}, {tt.b, tt.a}} {
				if got := tooClose(result(pair[0]), result(pair[1])); got != tt.want {
					t.Errorf("too close: %t, want %t", got, tt.want)
				}
			}
		})
	}
}

// TestFactorMovesAnInterval: a factor of 1.02 known to 0.1 % takes the ends along and
// apart, by the root of the sum of squares (JCGM 100:2008 section 5.1.2).
func TestFactorMovesAnInterval(t *testing.T) {
	s := day.New()
	s.Heats["h"] = day.Heat{ID: "h", Division: "a", Stage: 1, Round: 1}
	s.Factors = []day.FactorSet{{Number: 1, Factors: []fairness.Adopted{{Bench: "b1", FactorPPM: 1_020_000, UPPM: 1000}}}}
	v := s.Value(day.Run{Bench: "b1", Heat: "h", Source: day.SourceBench, Figures: measure.Figures{
		DistanceUM: 204_000_000, UDistanceUM: 50_000, U95DistanceUM: 2_500_000, LowUM: 203_000_000, HighUM: 208_000_000,
	}})
	// 204 m read, 203 to 208: 200 m, 0.9804 below and 3.9216 above. The factor adds
	// 1.96 times 0.2 m to each in quadrature: 1.0559 and 3.9411.
	if v.LowUM == nil || v.HighUM == nil {
		t.Fatal("the ends are gone")
	}
	if low, high := *v.LowUM-198_944_100, *v.HighUM-203_941_100; max(low, -low) > 100 || max(high, -high) > 100 {
		t.Errorf("from %d to %d µm", *v.LowUM, *v.HighUM)
	}
}
