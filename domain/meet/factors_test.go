package meet_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// The value and its uncertainty in whole numbers are the float ones rounded, for
// whatever a bench can read.
func TestValueAgreesWithFloats(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		um := rapid.Int64Range(0, 100_000_000_000).Draw(t, "um")
		u := rapid.Int64Range(0, 1_000_000_000).Draw(t, "u")
		f := fairness.Adopted{
			Bench: "b1", FactorPPM: rapid.Int64Range(500_000, 2_000_000).Draw(t, "factor"), UPPM: rapid.Int64Range(0, 100_000).Draw(t, "uf"),
		}
		s := day.New()
		s.Heats["h"] = day.Heat{ID: "h", Division: "a", Stage: 1, Round: 1}
		s.Factors = []day.FactorSet{{Number: 1, Factors: []fairness.Adopted{f}}}
		r := day.Run{Bench: "b1", Heat: "h", Source: day.SourceBench, Figures: measure.Figures{DistanceUM: um, UDistanceUM: u}}
		got := s.Value(r)
		factor := float64(f.FactorPPM) / 1e6
		want := float64(um) / factor
		if got.AsRead != um || math.Abs(float64(got.Corrected.Corrected)-want) > 0.5+1e-9*want {
			t.Fatalf("%d µm over %v is %d, want %.3f", um, factor, got.Corrected.Corrected, want)
		}
		wantU := math.Hypot(float64(u)/factor, want*float64(f.UPPM)/1e6)
		if math.Abs(float64(got.UUM)-wantU) > 1+1e-9*wantU {
			t.Fatalf("the uncertainty is %d, want %.3f", got.UUM, wantU)
		}
		r.Source = day.SourceHand
		if hand := s.Value(r); hand.Set != 0 || hand.Corrected.Corrected != um || hand.UUM != u {
			t.Fatalf("a hand count is corrected: %+v", hand)
		}
	})
}
