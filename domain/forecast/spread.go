package forecast

import (
	"cmp"
	"math"
	"slices"
)

// Shown is what a car showed in one run.
type Shown struct {
	// Field names runs that can be compared: one division, one length of race.
	Field string
	Car   string
	// Value is what it showed, of which more is better; 0 or less is left out.
	Value float64
}

// Spread is how cars and their runs scatter, relative to what they show.
type Spread struct {
	// CarSD is of the true speeds of the cars of a field, RunSD of the runs of one car.
	CarSD, RunSD float64
	// Cars is how many cars with two runs or more it was learned from.
	Cars int
}

// UsualSpread is that of a small hall where no runs are known (common practice).
var UsualSpread = Spread{CarSD: 0.06, RunSD: 0.015}

// LeastCars is how many cars have to have run twice before their spread is taken for that
// of a club.
const LeastCars = 6

// SpreadOf learns how cars and runs scatter from runs: the variance within cars, and what
// the means of cars scatter beyond it, both of logarithms and within a field (one-way
// analysis of variance with groups of unequal size; S. R. Searle, G. Casella and C. E.
// McCulloch, "Variance Components", 1992). False where fewer than [LeastCars] cars have two
// runs. A spread is at least a thousandth, at most one.
func SpreadOf(runs []Shown) (Spread, bool) {
	runs = slices.DeleteFunc(slices.Clone(runs), func(r Shown) bool { return !(r.Value > 0) || math.IsInf(r.Value, 1) })
	slices.SortStableFunc(runs, func(a, b Shown) int { return cmp.Or(cmp.Compare(a.Field, b.Field), cmp.Compare(a.Car, b.Car)) })
	var within, between, weight float64 // sums of squares, and how much the cars' variance counts in the second
	freeWithin, freeBetween, cars := 0, 0, 0
	for len(runs) > 0 {
		end := slices.IndexFunc(runs, func(r Shown) bool { return r.Field != runs[0].Field })
		if end < 0 {
			end = len(runs)
		}
		field := runs[:end]
		runs = runs[end:]
		all := 0.0
		for _, r := range field {
			all += math.Log(r.Value) / float64(len(field))
		}
		inField, squares := 0, 0.0
		for rest := field; len(rest) > 0; {
			n := slices.IndexFunc(rest, func(r Shown) bool { return r.Car != rest[0].Car })
			if n < 0 {
				n = len(rest)
			}
			own := 0.0
			for _, r := range rest[:n] {
				own += math.Log(r.Value) / float64(n)
			}
			for _, r := range rest[:n] {
				within += math.Pow(math.Log(r.Value)-own, 2)
			}
			between += float64(n) * math.Pow(own-all, 2)
			squares += float64(n * n)
			freeWithin += n - 1
			inField++
			if n > 1 {
				cars++
			}
			rest = rest[n:]
		}
		freeBetween += inField - 1
		weight += float64(len(field)) - squares/float64(len(field))
	}
	if cars < LeastCars || weight <= 0 {
		return Spread{}, false
	}
	run := within / float64(freeWithin)
	car := max(0, between-float64(freeBetween)*run) / weight
	bounded := func(variance float64) float64 { return min(1, max(0.001, math.Sqrt(variance))) }
	return Spread{CarSD: bounded(car), RunSD: bounded(run), Cars: cars}, true
}
