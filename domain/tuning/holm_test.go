package tuning_test

import (
	"math"
	"testing"

	"benchmeet/domain/tuning"
)

// TestHolm: worked by hand from the rule: 4 of them, so 0.01 times 4, 0.013 times 3 (which
// is less than the one before it and is raised to it), 0.02 times 2, 0.6 times 1.
func TestHolm(t *testing.T) {
	got, want := tuning.Holm([]float64{0.02, 0.6, 0.01, 0.013}), []float64{0.04, 0.6, 0.04, 0.04}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 {
			t.Errorf("got %v, want %v", got, want)
		}
	}
	if all := tuning.Holm([]float64{0.7, 0.9}); all[0] != 1 || all[1] != 1 {
		t.Errorf("%v is more than always", all)
	}
}

// TestP: the two mixtures of tomatoes with a linear drift over their places (Box, Hunter
// and Hunter, Statistics for Experimenters, 1978) would be one curved fit here; a fit
// without drift over four equal pairs has a P that Student's t gives: the pairs of A and B
// of two values each, 1 apart with a scatter of 1 about the means.
func TestPStandsWithTheInterval(t *testing.T) {
	runs := runsOf("A|B|B|A|B|A|A|B", 119.0, 121.2, 121.0, 119.3, 121.4, 119.1, 119.2, 121.1)
	a, err := tuning.Compare(runs, 8, tuning.Scatter{})
	if err != nil || a.Verdict != tuning.Quicker || a.P > tuning.Level(0) || a.P <= 0 {
		t.Errorf("quicker with P %g: %+v, %v", a.P, a, err)
	}
	same, err := tuning.Compare(runsOf("A|B|B|A|B|A|A|B", 119.0, 119.2, 119.0, 119.3, 119.2, 119.1, 119.2, 119.1), 8, tuning.Scatter{})
	if err != nil || same.Verdict != tuning.NotShown || same.P <= tuning.Level(0) || same.P > 1 {
		t.Errorf("not shown with P %g: %+v, %v", same.P, same, err)
	}
}
