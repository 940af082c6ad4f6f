package comparison_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/board"
	"benchmeet/domain/comparison"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// A bench that reads 3 % high, and a run of another that lost a fifth of its
// way, are found by the runs of the day alone.
func TestRacesCompareBenches(t *testing.T) {
	d := newDay(t, 12, 4, 1, 1, 1.03, 1)
	for n := range 4 {
		d.round(func(entry day.EntryID, f *measure.Figures) {
			if n == 2 && entry == "e3" {
				f.MeanUMPS -= f.MeanUMPS / 20
			}
		})
	}
	r := d.report()
	if !r.Fit.Connected() || r.Fit.Runs != 48 || len(r.Used) != 48 {
		t.Fatalf("connected %v, %d runs", r.Fit.Connected(), r.Fit.Runs)
	}
	verdicts := map[day.BenchID]fairness.Verdict{}
	for _, b := range r.Benches {
		verdicts[b.ID] = b.Fit.Verdict
		if b.Races != 12 || b.Since != 12 || b.LastGoodUS != 0 {
			t.Errorf("bench %s made %d races, %d since %d", b.ID, b.Races, b.Since, b.LastGoodUS)
		}
	}
	if verdicts["b3"] != fairness.ReadsHigh || verdicts["b2"] != fairness.Agrees {
		t.Errorf("verdicts %v", verdicts)
	}
	if b := r.Benches[2].Fit; b.Low > 1.03/math.Pow(1.03, 0.25) || b.High < 1.03/math.Pow(1.03, 0.25) {
		t.Errorf("the factor of bench 3 is said to be in %v to %v", b.Low, b.High)
	}
	if len(r.Fit.Suspects) != 1 || r.Used[r.Fit.Suspects[0].Run].Entry != "e3" {
		t.Errorf("suspects %v", r.Fit.Suspects)
	}
	known := r.Known()
	if known.Verdicts["b3"] != fairness.ReadsHigh || !known.Suspects[r.Used[r.Fit.Suspects[0].Run].Run] {
		t.Errorf("known: %v", known)
	}
	l := r.Limits()
	if diff := cmp.Diff(fairness.CriticalH(4, 0.05), l.H5); diff != "" || !(l.K1 > l.K5) {
		t.Errorf("limits %v", l)
	}
	adopted, err := r.Adopt()
	if err != nil || len(adopted) != 4 || adopted[2].Bench != "b3" || adopted[2].FactorPPM < 1_015_000 {
		t.Errorf("adopt: %v, %v", adopted, err)
	}
}

// Cars that ran once each tie nothing; a reference car does.
func TestReferenceRunsTieBenches(t *testing.T) {
	d := newDay(t, 4, 1, 1, 1, 1, 1)
	if r := d.report(); r.Fit != nil || len(r.Benches) != 4 {
		t.Errorf("without a run: %+v", r)
	}
	d.round(nil)
	r := d.report()
	if r.Fit.Connected() || len(r.Fit.Missing) == 0 {
		t.Errorf("four cars on a bench each: connected %v", r.Fit.Connected())
	}
	if _, err := r.Adopt(); err == nil {
		t.Error("what is not tied can be adopted")
	}
	if l := r.Limits(); !math.IsNaN(l.H5) || !math.IsNaN(l.K5) {
		t.Errorf("limits %v", l)
	}
	d.check(2, 0)
	if r = d.report(); !r.Fit.Connected() || r.Fit.Runs != 12 {
		t.Errorf("with two reference cars: connected %v, %d runs", r.Fit.Connected(), r.Fit.Runs)
	}
}

// The morning's check, races, a bench that moves, and a check that finds it.
func TestChecks(t *testing.T) {
	d := newDay(t, 12, 3, 1, 1.01, 1, 1, 0.99, 1)
	d.check(3, 0)
	morning := d.now
	d.round(nil)
	d.factors[3] = 1.06
	d.round(nil)
	d.check(3, 2)
	r := d.report()
	if c := r.Checks[1]; c.Done != 6 || len(c.Slots) != 12 || c.Slots[6].Run != "" || c.Slots[0].Run == "" {
		t.Errorf("half of the check: %d of %d done", c.Done, len(c.Slots))
	}
	d.check(3, 0)
	r = d.report()
	if c := r.Checks[0]; c.Against != comparison.AgainstItself || c.Done != len(c.Slots) {
		t.Errorf("the first check is held to %q, %d of %d done", c.Against, c.Done, len(c.Slots))
	}
	for _, b := range r.Checks[0].Benches {
		if !b.Good || !b.Judged {
			t.Errorf("morning: bench %d is not good: %s", b.Number, fairness.Join(b.Says))
		}
	}
	last := r.Checks[2]
	if last.Against != comparison.AgainstEarlier {
		t.Errorf("the last check is held to %q", last.Against)
	}
	for _, b := range last.Benches {
		if b.Good != (b.Number != 4) {
			t.Errorf("bench %d good %v: %s", b.Number, b.Good, fairness.Join(b.Says))
		}
	}
	for _, b := range r.Benches {
		switch {
		case b.ID == "b4" && (len(b.InDoubt) != 4 || b.Since != 4 || b.LastGoodUS > morning):
			t.Errorf("bench 4: %d in doubt, %d since %d", len(b.InDoubt), b.Since, b.LastGoodUS)
		case b.ID != "b4" && (len(b.InDoubt) != 0 || b.Since != 0):
			t.Errorf("bench %d: %d in doubt, %d since the last good check", b.Number, len(b.InDoubt), b.Since)
		}
	}
	// From there on only what came since is compared: bench 4 is another one.
	if r.Since != 3 || r.Fit.Runs != 12 {
		t.Errorf("since check %d, %d runs are compared", r.Since, r.Fit.Runs)
	}
	for _, b := range r.Benches {
		if (b.Fit.Verdict == fairness.ReadsHigh) != (b.Number == 4) {
			t.Errorf("bench %d: %s", b.Number, b.Fit.Verdict)
		}
	}
	decisions := board.TasksKnowing(d.meet, d.now, r.Known())
	if i := slices.IndexFunc(
		decisions, func(x board.Task) bool { return x.Kind == board.TaskDoubted },
	); i < 0 || decisions[i].Bench != "b4" || decisions[i].Races != 4 {
		t.Errorf("decisions: %+v", decisions)
	}
	doubted := r.Benches[3].InDoubt[0]
	d.do(meet.LetRunStand{Heat: doubted.Heat, Entry: doubted.Entry, Reason: day.Reason{Code: day.ReasonBenches}})
	d.round(nil)
	r = d.report()
	if b := r.Benches[0]; b.Since != 2 || b.Races != 6 {
		t.Errorf("bench 1 made %d races, %d since its check", b.Races, b.Since)
	}
	// One of the runs in doubt was ruled on; a good check later leaves the rest.
	if b := r.Benches[3]; len(b.InDoubt) != 3 {
		t.Errorf("%d runs of bench 4 are in doubt", len(b.InDoubt))
	}
	d.check(3, 0)
	r = d.report()
	if c := r.Checks[3]; c.Against != comparison.AgainstEarlier || !c.Benches[3].Good || r.Since != 3 {
		t.Errorf("the next check is held to %q, bench 4 is good: %v, since %d", c.Against, c.Benches[3].Good, r.Since)
	}
	if b := r.Benches[3]; len(b.InDoubt) != 3 || b.Since != 0 {
		t.Errorf("%d runs of bench 4 are in doubt, %d since its good check", len(b.InDoubt), b.Since)
	}
}

// Where factors were adopted, a later check is held to them.
func TestChecksAfterAdopting(t *testing.T) {
	rules := day.UsualRules()
	rules.Benches = day.BenchCorrect
	d := newDay(t, 12, 3, 1, 1.02, 1, 1)
	d.do(meet.ChangeRules{Rules: rules})
	d.check(3, 0)
	r := d.report()
	adopted, err := r.Adopt()
	if err != nil {
		t.Fatal(err)
	}
	d.do(meet.AdoptFactors{Factors: adopted, Runs: r.Fit.Runs, FitUS: r.NewestUS(), Reason: day.Reason{Code: day.ReasonBenches}})
	d.factors[1] = 1
	d.check(3, 0)
	last := d.report().Checks[1]
	if last.Against != comparison.AgainstAdopted {
		t.Errorf("held to %q", last.Against)
	}
	for _, b := range last.Benches {
		if b.Good != (b.Number != 2) {
			t.Errorf("bench %d good %v: %s", b.Number, b.Good, fairness.Join(b.Says))
		}
	}
}

// Cars that lose 1.5 % from round to round are no fault of the benches: the fit is told the rounds, so that its
// intervals stay as narrow as runs repeat and hold the true factors.
func TestCarsThatFadeFromRoundToRound(t *testing.T) {
	d := newDay(t, 24, 3, 1.01, 0.99, 1.02, 1)
	for n := range 3 {
		d.round(func(_ day.EntryID, f *measure.Figures) {
			f.MeanUMPS = int64(float64(f.MeanUMPS) * math.Exp(-0.015*float64(n)))
		})
	}
	r := d.report()
	if !r.Fit.Connected() || len(r.Fit.Rounds) != 3 || r.Fit.Repeatability > 0.0045 {
		t.Fatalf("rounds %v, repeatability %v", r.Fit.Rounds, r.Fit.Repeatability)
	}
	mean := math.Pow(1.01*0.99*1.02, 0.25)
	for i, truth := range []float64{1.01, 0.99, 1.02, 1} {
		if b := r.Benches[i].Fit; truth/mean < b.Low-0.001 || truth/mean > b.High+0.001 {
			t.Errorf("bench %d: the factor is said to be in %v to %v, and is %v", i+1, b.Low, b.High, truth/mean)
		}
	}
	if lost := r.Fit.Rounds[2].Level / r.Fit.Rounds[0].Level; math.Abs(lost-math.Exp(-0.03)) > 0.003 {
		t.Errorf("cars keep %v of their speed over two rounds", lost)
	}
}
