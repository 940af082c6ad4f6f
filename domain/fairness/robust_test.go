package fairness_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/fairness"
)

// Source: Analytical Methods Committee, Analyst 114 (1989) 1693-1702; Venables
// and Ripley, Modern Applied Statistics with S, 4th ed. 2002, 5.5.
func TestRobustChem(t *testing.T) {
	var in struct{ Y []float64 }
	var want struct {
		Mean, Median float64
		MAD          float64 `json:"mad_scaled"`
		Huber        float64 `json:"huber_M"`
		Centre       float64 `json:"huber_prop2_mu"`
		Scale        float64 `json:"huber_prop2_s"`
	}
	workedCase(t, "robust-chem", &in, &want)
	near(t, "mean", fairness.Summarise(in.Y).Mean, want.Mean, 1e-9)
	near(t, "median", fairness.Median(in.Y), want.Median, 1e-12)
	near(t, "MAD", fairness.MAD(in.Y), want.MAD, 1e-6)
	near(t, "Huber", fairness.Huber(in.Y), want.Huber, 2e-6)
	centre, scale := fairness.HuberProposal2(in.Y)
	near(t, "proposal 2, centre", centre, want.Centre, 1e-5)
	near(t, "proposal 2, scale", scale, want.Scale, 1e-5)
}

func TestRobustEdges(t *testing.T) {
	if m := fairness.Median(nil); !math.IsNaN(m) {
		t.Errorf("the median of nothing is %g", m)
	}
	if c, s := fairness.HuberProposal2([]float64{3, 3, 3, 900}); c != 3 || s != 0 {
		t.Errorf("got %g, %g", c, s)
	}
	if c := fairness.Huber([]float64{3, 3, 3, 900}); c != 3 {
		t.Errorf("got %g", c)
	}
}

// Moving and stretching all values moves and stretches the estimates, and one
// gross error moves them by little.
func TestHuberProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole numbers, so that values that differ stay different when moved.
		values := rapid.SliceOfN(rapid.Map(rapid.IntRange(-1000, 1000), func(i int) float64 { return float64(i) }), 5, 30).Draw(t, "values")
		by, times := rapid.Float64Range(-100, 100).Draw(t, "by"), rapid.Float64Range(0.1, 10).Draw(t, "times")
		moved := make([]float64, len(values))
		for i, v := range values {
			moved[i] = by + times*v
		}
		c, s := fairness.HuberProposal2(values)
		c2, s2 := fairness.HuberProposal2(moved)
		if s < 1e-6 {
			return // nothing to be stretched but rounding
		}
		if math.Abs(c2-(by+times*c)) > 1e-6*(1+math.Abs(c2)) || math.Abs(s2-times*s) > 1e-6*times*(1+s) {
			t.Fatalf("%v: %g ± %g moved to %g ± %g", values, c, s, c2, s2)
		}
	})
}

// Sources: Hollander and Wolfe, Nonparametric Statistical Methods, 2nd ed. 1999,
// ch. 9 (from memory, recomputed); the second computed from the formula of Theil
// 1950 and Sen, J. Am. Stat. Assoc. 63 (1968) 1379-1389.
func TestTheilSen(t *testing.T) {
	tests := []struct {
		id          string
		slope, at0  float64
		pairs       int
		significant bool
	}{
		{"theil-sen-cloud-seeding", -0.05625, 1.32875, 10, false},
		{"theil-sen-one-spike", 1.0125, 4.6 - 1.0125*4.5, 45, true},
	}
	for _, tt := range tests {
		t.Run(tt.id, func(t *testing.T) {
			var in struct{ X, Y []float64 }
			workedCase(t, tt.id, &in, &struct{}{})
			got, err := fairness.FitTheilSen(in.X, in.Y)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "slope", got.Slope, tt.slope, 1e-12)
			near(t, "at 0", got.At0, tt.at0, 1e-12)
			if got.Pairs != tt.pairs || got.Significant() != tt.significant || got.Low > got.Slope || got.High < got.Slope {
				t.Errorf("got %+v", got)
			}
		})
	}
	// Least squares follow the spike.
	var in struct{ X, Y []float64 }
	var want struct {
		Slope float64 `json:"ols_slope"`
		At0   float64 `json:"ols_intercept"`
	}
	workedCase(t, "theil-sen-one-spike", &in, &want)
	l, err := fairness.FitLine(in.X, in.Y)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least squares, slope", l.Slope, want.Slope, 1e-9)
	near(t, "least squares, at 0", l.At0, want.At0, 1e-9)
}

func TestTheilSenRefuses(t *testing.T) {
	tests := []struct {
		name string
		x, y []float64
	}{
		{"nothing", nil, nil},
		{"one time", []float64{1, 1}, []float64{1, 2}},
		{"a y is missing", []float64{1, 2}, []float64{1}},
		{"not a number", []float64{1, 2}, []float64{1, math.NaN()}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got, err := fairness.FitTheilSen(tt.x, tt.y); err == nil {
				t.Errorf("got %+v", got)
			}
		})
	}
}

// Source: JCGM 100:2008 (GUM), Annex H.3, from memory, recomputed.
func TestFitLineGUMH3(t *testing.T) {
	var in struct {
		T, B []float64
		T0   float64
	}
	var want struct {
		Y1  float64
		UY1 float64 `json:"u_y1"`
		Y2  float64
		UY2 float64 `json:"u_y2"`
		R   float64
		S   float64
		B30 float64 `json:"b_at_30"`
		U30 float64 `json:"u_b_at_30"`
	}
	workedCase(t, "gum-H3", &in, &want)
	for i := range in.T {
		in.T[i] -= in.T0
	}
	l, err := fairness.FitLine(in.T, in.B)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "y1", l.At0, want.Y1, 0.00005)
	near(t, "y1 unrounded", l.At0, -0.171204, 1e-6)
	near(t, "u of y1", l.UAt0, want.UY1, 0.00005)
	near(t, "y2", l.Slope, want.Y2, 0.000005)
	near(t, "u of y2", l.USlope, want.UY2, 0.000005)
	near(t, "r", l.Correlation, want.R, 0.005)
	near(t, "s", l.SD, want.S, 0.00005)
	b, u := l.At(30 - in.T0)
	near(t, "b at 30", b, want.B30, 0.00005)
	near(t, "u of b at 30", u, want.U30, 0.00005)
}

// Source: Student (W. S. Gosset), Biometrika 6 (1908) 1-25; sleep data of base R,
// printed there t -1.8608, df 17.776, p 0.07939.
func TestWelchSleep(t *testing.T) {
	var in struct{ A, B []float64 }
	var want struct {
		T, DF float64
		P     float64    `json:"p_two_sided"`
		CI    [2]float64 `json:"ci95"`
	}
	workedCase(t, "welch-sleep", &in, &want)
	w, err := fairness.Welch(in.A, in.B)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "t", w.T, want.T, 1e-9)
	near(t, "df", w.Degrees, want.DF, 1e-8)
	near(t, "p", w.P, want.P, 1e-9)
	near(t, "low", w.Low, want.CI[0], 1e-8)
	near(t, "high", w.High, want.CI[1], 1e-8)
	if w, err := fairness.Welch([]float64{1, 1}, []float64{2, 2}); err == nil {
		t.Errorf("lists without spread: got %+v", w)
	}
}
