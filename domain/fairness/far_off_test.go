package fairness

import (
	"math"
	"slices"
	"testing"
)

// TestUsualOf: who is far off, by ratios that are chosen here and not by the rule.
func TestUsualOf(t *testing.T) {
	field := []float64{6.8, 7.1, 7.4, 7.9, 8.2, 6.1} // ordinary cars
	wide := []float64{2, 3.5, 5, 7, 9, 11}           // beginners and experts
	tests := []struct {
		name   string
		others []float64
		mps    float64
		want   NoteCode
	}{
		{"one of them", field, 7.5, ""},
		{"half as quick again", field, 11, ""},
		{"a slow car", field, 2.4, ""},
		{"a car that did not move", field, 0, ""},
		{"marks counted three times", field, 21.6, "run-far-above"},
		{"a decimal point too far", []float64{2.1, 2.2, 2.3}, 22, "run-far-above"},
		{"a decimal point too near", field, 0.72, "run-far-below"},
		{"no car does that", field, 72, "run-impossible"},
		{"nor the first of all", nil, 102.7, "run-impossible"},
		{"the first of all", nil, 12, ""},
		{"the second of two", []float64{7}, 14.5, ""},
		{"twice as quick as the middle of a wide field", wide, 12.5, ""},
		{"five times the middle of a wide field", wide, 29.9, "run-far-above"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, off := UsualOf(append(slices.Clone(test.others), test.mps)).FarOff(test.mps)
			if got.Code != test.want || off != (test.want != "") {
				t.Errorf("%v m/s among %v is %q, want %q", test.mps, test.others, got.Code, test.want)
			}
		})
	}
}

// TestUsualIsRobust: with two of five runs ten times too long the others stay usual, and
// what is far off does not hang on the unit of length.
func TestUsualIsRobust(t *testing.T) {
	runs := []float64{7, 7.2, 6.9, 70, 71}
	for _, v := range runs {
		_, off := UsualOf(runs).FarOff(v)
		if off != (v > 10) {
			t.Errorf("%v m/s is far off: %v", v, off)
		}
	}
	slow := make([]float64, len(runs))
	for i, v := range runs {
		slow[i] = v / 10
	}
	a, b := UsualOf(runs), UsualOf(slow)
	if math.Abs(a.Middle/b.Middle-10) > 1e-9 || math.Abs(a.Low/b.Low-10) > 1e-9 {
		t.Errorf("ten times quicker, %+v is not ten times %+v", a, b)
	}
	if n, off := b.FarOff(7); !off || n.Code != "run-far-above" {
		t.Errorf("ten times the middle of a slow field is %q", n.Code)
	}
}
