package fairness

import (
	"math"

	"benchmeet/domain/refusal"
)

// ReferenceRun is one run of the morning's check: a car on a bench in a slot,
// all runs of a slot at the same time.
type ReferenceRun struct {
	Slot  int    `json:"slot"` // from 1
	Car   string `json:"car"`
	Bench string `json:"bench"`
}

// ReferencePlan says which reference car runs where in the morning, so that
// every bench is run on at least twice and all benches are tied together. Each
// car starts at another part of the hall and moves on by one bench from slot to
// slot: with c cars and p benches it takes 2p/c slots, rounded up, and ten slots
// of a minute are ten minutes. It needs a car, two benches, and no more cars than
// benches; each once.
func ReferencePlan(benches, cars []string) ([]ReferenceRun, error) {
	p, c := len(benches), len(cars)
	if p < 2 || c < 1 || c > p || repeats(benches) || repeats(cars) {
		return nil, refusal.New("reference-plan")
	}
	var runs []ReferenceRun
	for slot := range (2*p + c - 1) / c {
		for i, car := range cars {
			runs = append(runs, ReferenceRun{Slot: slot + 1, Car: car, Bench: benches[(i*p/c+slot)%p]})
		}
	}
	return runs, nil
}

func repeats(names []string) bool {
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] {
			return true
		}
		seen[n] = true
	}
	return false
}

// ReferenceSteps is the routine of the morning, step by step (common practice).
func ReferenceSteps() []Note {
	return []Note{
		note("reference-cars"), note("reference-benches"), note("reference-warm"), note("reference-run"),
		note("reference-fit"), note("reference-rule"), note("reference-again"),
	}
}

// Recheck is how a bench reads in a new reference check beside the factor that
// was adopted for it.
type Recheck struct {
	Bench string
	// Off is ln of the new factor over the adopted one, less the middle of these
	// of all benches: one bench that has changed moves the mean, and the others are
	// not to blame. U is its standard uncertainty.
	Off, U float64
	// Good says that the difference is within what is not known.
	Good bool
}

// Recheck compares the fit of a new check with the adopted factors, for the
// benches that are in both, in the order of the fit. The 5 % of false alarms is
// shared out among the benches. A fit without intervals checks nothing and is an
// error.
func (f *Fit) Recheck(adopted []Adopted) ([]Recheck, error) {
	if !f.Connected() || f.Degrees <= 0 || len(f.Benches) < 2 {
		return nil, refusal.New("study-short")
	}
	var out []Recheck
	var off []float64
	var degrees []float64
	for _, b := range f.Benches {
		for _, a := range adopted {
			if a.Bench != b.Name || a.FactorPPM <= 0 {
				continue
			}
			was := Estimate{Value: math.Log(float64(a.FactorPPM) / ppm), U: float64(a.UPPM) / ppm, Degrees: float64(a.Degrees)}
			d := Estimate{Value: math.Log(b.Factor), U: b.U, Degrees: float64(f.Degrees)}.Minus(was)
			out = append(out, Recheck{Bench: b.Name, U: d.U})
			off, degrees = append(off, d.Value), append(degrees, d.Degrees)
		}
	}
	middle := Median(off)
	for i := range out {
		r := &out[i]
		r.Off = off[i] - middle
		r.Good = math.Abs(r.Off) < 1e-6 || // rounding of the adopted factors
			Estimate{Value: r.Off, U: r.U, Degrees: degrees[i]}.TooClose(1-falseAlarm/float64(len(out)))
	}
	return out, nil
}

// Says is what a new check says of the bench, in plain words.
func (r Recheck) Says() []Note {
	switch {
	case r.Good:
		return []Note{note("recheck-good", "bench", r.Bench)}
	case r.Off > 0:
		return []Note{note("recheck-up", "bench", r.Bench, "percent", percent(math.Expm1(r.Off)))}
	}
	return []Note{note("recheck-down", "bench", r.Bench, "percent", percent(math.Expm1(r.Off)))}
}

// ReferenceCheck is the outcome of a check of one bench, at an instant in µs.
type ReferenceCheck struct {
	Bench string
	AtUS  int64
	Good  bool
}

// BenchRun is a run of the meet, with when it ended in µs.
type BenchRun struct {
	ID, Bench string
	AtUS      int64
}

// InDoubt returns the runs that a failed check puts in doubt: those on its bench
// since the last good check before it, or since the morning if there was none,
// in the order given.
func InDoubt(failed ReferenceCheck, checks []ReferenceCheck, runs []BenchRun) []BenchRun {
	since := int64(math.MinInt64)
	for _, c := range checks {
		if c.Bench == failed.Bench && c.Good && c.AtUS < failed.AtUS {
			since = max(since, c.AtUS)
		}
	}
	var out []BenchRun
	for _, r := range runs {
		if r.Bench == failed.Bench && r.AtUS > since && r.AtUS <= failed.AtUS {
			out = append(out, r)
		}
	}
	return out
}
