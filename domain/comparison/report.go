package comparison

import (
	"math"
	"slices"

	"benchmeet/domain/board"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// Report is what can be said of the benches now.
type Report struct {
	// Fit is over all runs; nil where there is none. Its benches are named by their
	// plates.
	Fit *fairness.Fit
	// Used are the runs of the fit in its order, so that a suspect leads to its run.
	Used []Used
	// Since is the number of the newest reference check that found a bench moved, 0
	// for none: runs before it are not compared, for a bench that has moved is another
	// one.
	Since int
	// Benches are those of the meet by plate.
	Benches []Bench
	// Checks are the reference checks in their order.
	Checks []Check
}

// Bench is what is said of one bench of the meet.
type Bench struct {
	ID     day.BenchID
	Number int
	// Fit is its part of the fit; nil where it has no run.
	Fit *fairness.Bench
	// Races is how many counting runs it made, Since how many of them after LastGoodUS,
	// which is its last good reference check, 0 if there was none.
	Races, Since int
	LastGoodUS   int64
	// InDoubt are the races that failed reference checks put in doubt and that no
	// ruling has looked at since.
	InDoubt []Used
	// FailedUS is when its newest failed check was, 0 for none.
	FailedUS int64
}

// Limits are the critical values of Mandel's statistics; NaN where there are too
// few benches.
type Limits struct{ H5, H1, K5, K1 float64 }

// Of compares the benches of a meet. It takes what fairness.FitBenches takes,
// twice.
func Of(s *day.State, c *club.State, meetID string) (*Report, error) {
	all := gather(s, c, meetID)
	r := &Report{Used: all}
	var err error
	if r.Checks, err = checks(s, c, meetID, all); err != nil {
		return nil, err
	}
	for _, check := range r.Checks {
		// A bench that reads something else than before is another bench: only what was run since compares.
		if check.moved() {
			r.Since = check.Number
			r.Used = slices.DeleteFunc(slices.Clone(all), func(u Used) bool { return u.AtUS < check.AtUS })
		}
	}
	if len(r.Used) > 0 {
		fit, err := fairness.FitBenches(fitted(s, r.Used), fairness.Hours)
		if err != nil {
			return nil, err
		}
		r.Fit = fit
	}
	outcomes := r.outcomes()
	for _, b := range s.SortedBenches() {
		bench := Bench{ID: b.ID, Number: b.Number}
		if r.Fit != nil {
			// A bench without a run in the fit has none of it, and is listed all the same.
			for i := range r.Fit.Benches {
				if r.Fit.Benches[i].Name == plate(s, b.ID) {
					bench.Fit = &r.Fit.Benches[i]
				}
			}
		}
		bench.since(s, all, outcomes)
		r.Benches = append(r.Benches, bench)
	}
	return r, nil
}

// since counts a bench's races since its last good check, and lists those that
// failed ones put in doubt.
func (b *Bench) since(s *day.State, all []Used, outcomes []fairness.ReferenceCheck) {
	var own []fairness.ReferenceCheck
	for _, o := range outcomes {
		if o.Bench == string(b.ID) {
			own = append(own, o)
			if o.Good {
				b.LastGoodUS = max(b.LastGoodUS, o.AtUS)
			}
		}
	}
	var races []fairness.BenchRun
	byID := map[string]Used{}
	for _, u := range all {
		if u.Check == 0 && u.Bench == b.ID {
			races = append(races, fairness.BenchRun{ID: string(u.Run), Bench: string(b.ID), AtUS: u.AtUS})
			byID[string(u.Run)] = u
			b.Races++
			// The checks were gone through first, so that the last good one is known.
			if u.AtUS > b.LastGoodUS {
				b.Since++
			}
		}
	}
	listed := map[string]bool{}
	for _, o := range own {
		if o.Good {
			continue
		}
		b.FailedUS = max(b.FailedUS, o.AtUS)
		for _, run := range fairness.InDoubt(o, own, races) {
			// Several failed checks may doubt one race: it is listed once, and not where an official has
			// looked at it since the check.
			if !listed[run.ID] && !ruledSince(s, byID[run.ID], o.AtUS) {
				listed[run.ID] = true
				b.InDoubt = append(b.InDoubt, byID[run.ID])
			}
		}
	}
}

// ruledSince says whether an official has ruled on a race since an instant.
func ruledSince(s *day.State, u Used, atUS int64) bool {
	return slices.ContainsFunc(s.Rulings, func(r day.Ruling) bool {
		return r.Heat == u.Heat && r.Entry == u.Entry && r.AtUS >= atUS
	})
}

// outcomes are the judged benches of all checks, in order.
func (r *Report) outcomes() []fairness.ReferenceCheck {
	var out []fairness.ReferenceCheck
	for _, check := range r.Checks {
		for _, b := range check.Benches {
			if b.Judged {
				out = append(out, fairness.ReferenceCheck{Bench: string(b.ID), AtUS: b.AtUS, Good: b.Good})
			}
		}
	}
	return out
}

// Limits returns the critical values of the report's h and k. Those of k are for
// benches with equally many runs, taken as many as they have on average beyond
// what the fit uses up.
func (r *Report) Limits() Limits {
	none := math.NaN()
	l := Limits{none, none, none, none}
	if r.Fit == nil || !r.Fit.Connected() || r.Fit.Degrees <= 0 {
		return l
	}
	p := len(r.Fit.Benches)
	if p >= 3 {
		l.H5, l.H1 = fairness.CriticalH(p, 0.05), fairness.CriticalH(p, 0.01)
	}
	if n := 1 + int(math.Round(float64(r.Fit.Degrees)/float64(p))); p >= 2 && n >= 2 {
		l.K5, l.K1 = fairness.CriticalK(p, n, 0.05), fairness.CriticalK(p, n, 0.01)
	}
	return l
}

// Known is what the report adds to the advice on re-runs.
func (r *Report) Known() board.Compared {
	known := board.Compared{
		Verdicts: map[day.BenchID]fairness.Verdict{}, Suspects: map[day.RunID]bool{}, Doubted: map[day.BenchID]board.Doubt{},
	}
	for _, b := range r.Benches {
		if b.Fit != nil {
			known.Verdicts[b.ID] = b.Fit.Verdict
		}
		if len(b.InDoubt) > 0 {
			known.Doubted[b.ID] = board.Doubt{Races: len(b.InDoubt), SinceUS: b.FailedUS}
		}
	}
	if r.Fit != nil {
		for _, suspect := range r.Fit.Suspects {
			if u := r.Used[suspect.Run]; u.Check == 0 {
				known.Suspects[u.Run] = true
			}
		}
	}
	return known
}

// NewestUS is the instant of the newest run of the fit, 0 for none.
func (r *Report) NewestUS() int64 {
	newest := int64(0)
	for _, u := range r.Used {
		newest = max(newest, u.AtUS)
	}
	return newest
}

// Adopt returns the factors of the fit for a ruling, by the ids of the benches.
// It refuses as [fairness.Fit.Adopt] does.
func (r *Report) Adopt() ([]fairness.Adopted, error) {
	if r.Fit == nil {
		return (&fairness.Fit{}).Adopt()
	}
	adopted, err := r.Fit.Adopt()
	if err != nil {
		return nil, err
	}
	for i := range adopted {
		for _, b := range r.Benches {
			if b.Fit != nil && b.Fit.Name == adopted[i].Bench {
				adopted[i].Bench = string(b.ID)
				break
			}
		}
	}
	return adopted, nil
}
