package evidence_test

import (
	"math"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// TestCompareByWhatCounts: two runs of 400 m and 392 m, the first on a bench that is
// known to read 2 % too far. As they count they are 400/1.02 m and 392 m; the doubt
// about the factors (0.3 % each) is in the difference between two benches.
func TestCompareByWhatCounts(t *testing.T) {
	s := day.New()
	s.Heats["h"] = day.Heat{ID: "h", Stage: 1, Round: 1}
	s.Entries["e1"], s.Entries["e2"] = day.Entry{ID: "e1", Car: "c1"}, day.Entry{ID: "e2", Car: "c1"}
	run := func(id day.RunID, bench day.BenchID, entry day.EntryID, m float64) day.Run {
		r := day.Run{ID: id, Bench: bench, Heat: "h", Entry: entry, Source: day.SourceBench, Figures: measure.Figures{
			Method: measure.Method, DistanceUM: int64(m * 1e6), UDistanceUM: 10_000, MeanUMPS: int64(m * 1e6 / 60),
		}}
		s.Runs[id] = r
		return r
	}
	a, b := run("a", "b1", "e1", 400), run("b", "b2", "e2", 392)
	plain := evidence.Compare(s, a, b, nil, nil)
	if plain.Corrected || plain.SameBench || !plain.SameCar || plain.Slowing != nil || math.Abs(plain.Distance.Value-8) > 1e-9 ||
		plain.Distance.TooClose {
		t.Errorf("without factors: %+v", plain)
	}
	if math.Abs(plain.MeanSpeed.Value-8.0/60) > 1e-6 {
		t.Errorf("the mean speeds differ by %g m/s", plain.MeanSpeed.Value)
	}
	s.Factors = []day.FactorSet{{Number: 1, Factors: []fairness.Adopted{
		{Bench: "b1", FactorPPM: 1_020_000, UPPM: 3000, Degrees: 20}, {Bench: "b2", FactorPPM: 1_000_000, UPPM: 3000, Degrees: 20},
	}}}
	counted := evidence.Compare(s, a, b, nil, nil)
	if want := 400/1.02 - 392; !counted.Corrected || math.Abs(counted.Distance.Value-want) > 1e-6 || !counted.Distance.TooClose {
		t.Errorf("with factors: %+v, want %g and too close to tell", counted, want)
	}
	if u := math.Hypot(0.003*400/1.02, 0.003*392); math.Abs(counted.Distance.U-u) > 0.02*u {
		t.Errorf("u is %g, want about %g", counted.Distance.U, u)
	}
}

// TestSettingsChangedFromTwoMicrometres: processors may differ by one in the last
// digit; two are another setting.
func TestSettingsChangedFromTwoMicrometres(t *testing.T) {
	m := measure.Measurement{DistanceM: 123.456789}
	c := evidence.Curve{Measured: m}
	now := m.Figures().DistanceUM
	for off, changed := range map[int64]bool{-2: true, -1: false, 0: false, 1: false, 2: true} {
		if got := c.SettingsChanged(measure.Figures{DistanceUM: now + off}); got != changed {
			t.Errorf("%d µm apart: changed %v", off, got)
		}
	}
}

// TestRiseIsThatOfTheFirstOrder: a car that comes up to 8 m/s by 8(1 - exp(-t/τ)) and
// then loses 0.02 % of it a second: between the middles of the first and the last third of
// about 58 s that is 0.0077.
func TestRiseIsThatOfTheFirstOrder(t *testing.T) {
	const tau, full = 0.8, 8.0
	var c evidence.Curve
	c.Measured.ToUS = 60_000_000
	for us := int64(50_000); us <= c.Measured.ToUS; us += 50_000 {
		at := float64(us) / 1e6
		c.Samples = append(c.Samples, measure.Sample{AtUS: us, SpeedMPS: full * (1 - math.Exp(-at/tau)) * (1 - 0.0002*at)})
	}
	course := c.Course()
	got, known := course.Rise()
	if !known || math.Abs(got-tau) > 0.1*tau {
		t.Errorf("the time constant is %g s, %v, want %g", got, known, tau)
	}
	if loss, known := course.Lost(); !known || math.Abs(loss.Lost-0.0077) > 0.0005 {
		t.Errorf("lost %g, %v", loss.Lost, known)
	}
	if _, known := (evidence.Course{}).Rise(); known {
		t.Error("nothing rises in a run without samples")
	}
}
