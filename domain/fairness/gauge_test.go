package fairness_test

import (
	"testing"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// Source: AIAG, Measurement Systems Analysis, 4th ed. 2010, chapter III (data
// read in public files, printed results from memory), recomputed.
func TestCrossedGauge(t *testing.T) {
	s, err := fairness.Crossed(cells(t, "repeatability/gauge-10x3x3.csv", "part", "appraiser"), fairness.PoolAbove)
	if err != nil {
		t.Fatal(err)
	}
	lines := []struct {
		name   string
		got    fairness.Source
		df     int
		ss, ms float64
		f      float64
	}{
		{"cars", s.CarsSource, 9, 88.361934, 9.8179927, 213.51714},
		{"benches", s.BenchesSource, 2, 3.1672622, 1.5836311, 34.440073},
		{"interaction", s.Interaction, 18, 0.35898222, 0.019943457, 0.43372103},
	}
	for _, l := range lines {
		if l.got.Degrees != l.df {
			t.Errorf("%s: %d degrees of freedom, want %d", l.name, l.got.Degrees, l.df)
		}
		near(t, l.name+" SS", l.got.Squares, l.ss, 1e-6)
		near(t, l.name+" MS", l.got.MS, l.ms, 1e-7)
		near(t, l.name+" F", l.got.F, l.f, 1e-5)
	}
	near(t, "repeats SS", s.Repeats.Squares, 2.7589333, 1e-7)
	near(t, "p of the interaction", s.Interaction.P, 0.9741064, 1e-7)
	near(t, "raw interaction", s.InteractionRaw, -0.0086795885, 1e-9)
	if !s.Pooled || s.InteractionSD != 0 {
		t.Errorf("pooled %v, interaction %g", s.Pooled, s.InteractionSD)
	}
	near(t, "EV", s.Repeat, 0.199933, 1e-6)
	near(t, "AV", s.Benches, 0.226838, 1e-6)
	near(t, "GRR", s.Gauge.Gauge, 0.302372, 1e-6)
	near(t, "PV", s.Cars, 1.042327, 1e-6)
	near(t, "TV", s.Total, 1.085300, 1e-6)
	near(t, "distinct", s.Distinct, 4.8605, 1e-4)
	for i, want := range []float64{18.42, 20.90, 27.86, 96.04} {
		near(t, "percent", s.Percent()[i], want, 0.005)
	}
	for i, want := range []float64{3.3936769, 4.3684818, 7.7621587, 92.237841} {
		near(t, "contribution", s.Contribution()[i], want, 1e-5)
	}
}

// Without pooling a negative component is zero and shown raw.
func TestCrossedGaugeNotPooled(t *testing.T) {
	s, err := fairness.Crossed(cells(t, "repeatability/gauge-10x3x3.csv", "part", "appraiser"), 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "repeat variance", s.Repeat*s.Repeat, 0.045982222, 1e-8)
	near(t, "benches variance", s.Benches*s.Benches, 0.052122922, 1e-8)
	near(t, "cars variance", s.Cars*s.Cars, 1.0886721, 1e-6)
	if s.Pooled || s.InteractionSD != 0 {
		t.Errorf("pooled %v, interaction %g, want none and 0", s.Pooled, s.InteractionSD)
	}
}

// The manual rounds intermediates (0.20188, 0.22963, 0.30575, 1.10456); exact
// arithmetic with its constants gives the figures here.
func TestAverageAndRange(t *testing.T) {
	s, err := fairness.AverageAndRange(cells(t, "repeatability/gauge-10x3x3.csv", "part", "appraiser"))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "R-bar", s.MeanRange, 0.34166667, 1e-8)
	near(t, "x-diff", s.BenchRange, 0.44466667, 1e-8)
	near(t, "R-part", s.CarRange, 3.5111111, 1e-7)
	near(t, "EV", s.Repeat, 0.20186, 1e-4)
	near(t, "AV", s.Benches, 0.22967, 1e-4)
	near(t, "GRR", s.Gauge.Gauge, 0.30577, 1e-4)
	near(t, "PV", s.Cars, 1.10460, 2e-4)
	near(t, "TV", s.Total, 1.14613, 2e-4)
	near(t, "distinct", s.Distinct, 5.0937, 1e-3)
	for i, want := range []float64{17.61, 20.04, 26.68, 96.38} {
		near(t, "percent", s.Percent()[i], want, 0.02)
	}
}

// Source: the VCA package of R (layout of CLSI EP05-A3); components computed by
// two programs.
func TestNested(t *testing.T) {
	s, err := fairness.Nested(cells(t, "repeatability/nested-3site-5day-5rep.csv", "site", "day"))
	if err != nil {
		t.Fatal(err)
	}
	lines := []struct {
		name   string
		got    fairness.Source
		df     int
		ss, ms float64
	}{
		{"site", s.Outer, 2, 58.872776, 29.43639},
		{"day", s.Inner, 12, 48.01629, 4.00136},
		{"error", s.Repeats, 60, 136.31696, 2.27195},
	}
	for _, l := range lines {
		if l.got.Degrees != l.df {
			t.Errorf("%s: %d degrees of freedom, want %d", l.name, l.got.Degrees, l.df)
		}
		near(t, l.name+" SS", l.got.Squares, l.ss, 1e-5)
		near(t, l.name+" MS", l.got.MS, l.ms, 5e-6)
	}
	near(t, "mean", s.Mean, 25.198978, 1e-6)
	near(t, "F of site", s.Outer.F, 7.3566004, 1e-6)
	near(t, "F of day", s.Inner.F, 1.7612001, 1e-6)
	near(t, "variance of site", s.OuterVariance, 1.017401, 1e-6)
	near(t, "variance of day", s.InnerVariance, 0.345882, 1e-6)
	near(t, "variance of error", s.RepeatVariance, 2.271949, 1e-6)
	near(t, "total sd", s.TotalSD, 1.90663, 1e-5)
}

func TestStudiesRefuseShapes(t *testing.T) {
	tests := []struct {
		name   string
		values [][][]float64
	}{
		{"nothing", nil},
		{"one car", [][][]float64{{{1, 2}, {1, 2}}}},
		{"one bench", [][][]float64{{{1, 2}}, {{1, 2}}}},
		{"no car at all", [][][]float64{{}, {}}},
		{"one trial", [][][]float64{{{1}, {2}}, {{1}, {2}}}},
		{"a trial is missing", [][][]float64{{{1, 2}, {2, 1}}, {{1, 2}, {2}}}},
		{"a bench is missing", [][][]float64{{{1, 2}, {2, 1}}, {{1, 2}}}},
	}
	studies := map[string]func([][][]float64) error{
		"crossed": func(v [][][]float64) error { _, err := fairness.Crossed(v, fairness.PoolAbove); return err },
		"ranges":  func(v [][][]float64) error { _, err := fairness.AverageAndRange(v); return err },
		"nested":  func(v [][][]float64) error { _, err := fairness.Nested(v); return err },
	}
	for _, tt := range tests {
		for name, study := range studies {
			t.Run(tt.name+"/"+name, func(t *testing.T) {
				if r, is := refusal.As(study(tt.values)); !is || r.Code != "study-shape" {
					t.Errorf("got %v", r)
				}
			})
		}
	}
}
