package tuning

import "math"

// Run is one run of a car, in the order in which the car drove.
type Run struct {
	// Value is what is compared, positive: metres, metres a second. For a time give
	// its inverse: more has to be better.
	Value float64
	// Changed says that the car was in its second state, B, and not in its first.
	Changed bool
	// Fitting counts how often something was taken out and fitted before: runs with
	// the same number share one fitting.
	Fitting int
	// At is how far the car was used, in whatever grows evenly with it: its own runs
	// before this one where nothing better is known.
	At float64
}

// unit is one value of a comparison: a fitting, or a run where a state was fitted once.
type unit struct {
	value   float64 // natural logarithm
	at      float64
	changed bool
}

// units puts the runs of each fitting together; asFitted says that a state has one
// fitting only, so that its runs stay apart. Neighbouring runs of one fitting and state
// belong together: whoever fits A again after B has fitted anew, whatever the number.
func units(runs []Run) (list []unit, asFitted bool) {
	type sum struct {
		unit
		n float64
	}
	var sums []sum
	var fittings [2]int
	for i, r := range runs {
		if i == 0 || r.Fitting != runs[i-1].Fitting || r.Changed != runs[i-1].Changed {
			sums = append(sums, sum{unit: unit{changed: r.Changed}})
			fittings[state(r.Changed)]++
		}
		s := &sums[len(sums)-1]
		s.value += math.Log(r.Value)
		s.at += r.At
		s.n++
	}
	if fittings[0] == 1 || fittings[1] == 1 {
		for _, r := range runs {
			list = append(list, unit{math.Log(r.Value), r.At, r.Changed})
		}
		return list, true
	}
	for _, s := range sums {
		list = append(list, unit{s.value / s.n, s.at / s.n, s.changed})
	}
	return list, false
}

func state(changed bool) int {
	if changed {
		return 1
	}
	return 0
}
