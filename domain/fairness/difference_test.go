package fairness_test

import (
	"math"
	"testing"

	"benchmeet/domain/fairness"
)

func TestTooClose(t *testing.T) {
	tests := []struct {
		name       string
		a, b       fairness.Estimate
		confidence float64
		want       bool
	}{
		// The root of 0.1² + 0.1² times 1.96 is 0.277.
		{"inside", fairness.Estimate{Value: 231.2, U: 0.1}, fairness.Estimate{Value: 230.95, U: 0.1}, 0.95, true},
		{"outside", fairness.Estimate{Value: 231.2, U: 0.1}, fairness.Estimate{Value: 230.90, U: 0.1}, 0.95, false},
		{"more confidence asks for more", fairness.Estimate{Value: 231.2, U: 0.1}, fairness.Estimate{Value: 230.90, U: 0.1}, 0.99, true},
		// With 4 degrees of freedom 1.96 becomes 2.78.
		{"few degrees of freedom", fairness.Estimate{Value: 0.25, U: 0.1, Degrees: 4}, fairness.Estimate{}, 0.95, true},
		{"equal but exact", fairness.Estimate{Value: 1}, fairness.Estimate{Value: 1}, 0.95, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.a.Minus(tt.b).TooClose(tt.confidence); got != tt.want {
				t.Errorf("got %v", got)
			}
			if got := tt.b.Minus(tt.a).TooClose(tt.confidence); got != tt.want {
				t.Errorf("the other way round: got %v", got)
			}
		})
	}
}

// Welch and Satterthwaite: two of equal size with 5 degrees each give 10.
func TestMinusDegrees(t *testing.T) {
	d := fairness.Estimate{Value: 3, U: 2, Degrees: 5}.Minus(fairness.Estimate{Value: 1, U: 2, Degrees: 5})
	near(t, "degrees", d.Degrees, 10, 1e-12)
	near(t, "u", d.U, math.Sqrt(8), 1e-12)
	near(t, "value", d.Value, 2, 0)
}

// Cars that ran on the same benches share the errors of these, which cancel:
// the uncertainty is that of the repeats alone.
func TestDifferenceOnTheSameBenches(t *testing.T) {
	runs := []fairness.Run{
		{Bench: "b1", Car: "A", Value: 201},
		{Bench: "b2", Car: "A", Value: 205},
		{Bench: "b1", Car: "B", Value: 199},
		{Bench: "b2", Car: "B", Value: 204},
		{Bench: "b1", Car: "C", Value: 190},
		{Bench: "b2", Car: "C", Value: 195.5},
	}
	f, err := fairness.FitBenches(runs, fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	d, err := f.Difference("A", "B")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "difference", d.Value, (math.Log(201.0/199)+math.Log(205.0/204))/2, 1e-12)
	near(t, "u", d.U, f.Repeatability, 1e-12) // the root of (1/2 + 1/2)
	if self, err := f.Difference("A", "A"); err != nil || self.Value != 0 || self.U != 0 {
		t.Errorf("a car from itself: %+v, %v", self, err)
	}
	if d, err := f.Difference("A", "Z"); err == nil {
		t.Errorf("a car that did not run: %+v", d)
	}
}
