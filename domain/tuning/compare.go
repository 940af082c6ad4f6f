package tuning

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Verdict is the answer to "is it quicker?".
type Verdict string

// The verdicts.
const (
	// Quicker and Slower: the interval lies on one side of no change.
	Quicker Verdict = "quicker"
	Slower  Verdict = "slower"
	// NotYet: fewer fittings than announced, and nothing shown so far.
	NotYet Verdict = "not-yet"
	// NotShown: as many as announced, and any difference is smaller than they show.
	NotShown Verdict = "not-shown"
	// CannotTell: the order of the runs does not tell the change from the drift, or
	// nothing is left to know the scatter by.
	CannotTell Verdict = "cannot-tell"
)

// Answer is what a comparison says.
type Answer struct {
	Verdict Verdict
	// Change is how much more the second state gives, relative (0.017 is 1.7 % more);
	// Low and High bound it, so that all looks of the comparison together hold it in 95
	// of 100 comparisons. All three are zero where nothing can be told.
	Change, Low, High float64
	// P is how often chance alone shows as much where nothing changed, of one look; 1
	// where nothing can be told.
	P float64
	// Drift is the relative change from one unit of Run.At to the next, in the middle.
	Drift float64
	// Scatter is of the fittings about the fit, what was known before included.
	Scatter Scatter
	// Fittings and Left count what was compared, and what the announced number lacks.
	Fittings, Left int
	// AsFitted says that a state was fitted once, so that the change and how well it
	// was fitted are one: take it out and fit it again to know.
	AsFitted bool
	// Efficiency compares the order with the best of as many fittings, 0 to 1: below
	// a half the drift could be told from the change only badly.
	Efficiency float64
}

// Errors of Compare.
var (
	ErrValue    = errors.New("every run that is compared needs a positive number")
	ErrOneState = errors.New("run the car in both states: there is only one so far")
)

// curvedFrom is the number of values from which on the drift may be a parabola: with
// fewer too little is left to know the scatter by.
const curvedFrom = 6

// Compare compares the two states of a car over its runs, in the order driven.
// announced is the number of fittings (of runs, where a state is fitted once) that was
// planned before the first run: [Needed]. before is what like fittings scattered by.
// It costs a few microseconds.
func Compare(runs []Run, announced int, before Scatter) (Answer, error) {
	var seen [2]bool
	for _, r := range runs {
		if !(r.Value > 0) || math.IsInf(r.Value, 0) || math.IsNaN(r.At) || math.IsInf(r.At, 0) {
			return Answer{}, ErrValue
		}
		seen[state(r.Changed)] = true
	}
	if !seen[0] || !seen[1] {
		return Answer{}, ErrOneState
	}
	list, asFitted := units(runs)
	a := Answer{P: 1, Fittings: len(list), Left: max(0, announced-len(list)), AsFitted: asFitted}
	fit, apart := fitUnits(list)
	if !apart {
		a.Verdict = CannotTell
		return a, nil
	}
	a.Efficiency = min(1, 4/(float64(len(list))*fit.factor))
	a.Scatter = scatterOf(fit.squares+before.SD*before.SD*float64(before.Degrees), fit.degrees+before.Degrees)
	if a.Scatter.Degrees == 0 {
		a.Verdict = CannotTell
		return a, nil
	}
	student := distuv.StudentsT{Sigma: 1, Nu: float64(a.Scatter.Degrees)}
	half := student.Quantile(1-Level(a.Left)/2) * a.Scatter.SD * math.Sqrt(fit.factor)
	a.Change, a.Low, a.High = math.Expm1(fit.beta[0]), math.Expm1(fit.beta[0]-half), math.Expm1(fit.beta[0]+half)
	if u := a.Scatter.SD * math.Sqrt(fit.factor); u > 0 {
		a.P = 2 * student.Survival(math.Abs(fit.beta[0])/u)
	}
	low, high := spread(list)
	a.Drift = math.Expm1(2 * fit.beta[2] / (high - low))
	switch {
	case a.Low > 0:
		a.Verdict = Quicker
	case a.High < 0:
		a.Verdict = Slower
	case a.Left > 0:
		a.Verdict = NotYet
	default:
		a.Verdict = NotShown
	}
	return a, nil
}

// fitUnits fits change, level, straight and, where there are values enough, curved drift.
func fitUnits(list []unit) (line, bool) {
	n := len(list)
	values, at := make([]float64, n), make([]float64, n)
	change, level := make([]float64, n), make([]float64, n)
	for i, u := range list {
		values[i], at[i], level[i] = u.value, u.at, 1
		change[i] = float64(state(u.changed))
	}
	straight := centred(at)
	columns := [][]float64{change, level, straight}
	if n >= curvedFrom {
		curved := make([]float64, n)
		for i, v := range straight {
			curved[i] = v * v
		}
		columns = append(columns, curved)
	}
	return fitLine(values, columns...)
}

func spread(list []unit) (low, high float64) {
	low, high = list[0].at, list[0].at
	for _, u := range list {
		low, high = min(low, u.at), max(high, u.at)
	}
	return low, high
}

func scatterOf(squares float64, degrees int) Scatter {
	if degrees == 0 {
		return Scatter{}
	}
	return Scatter{math.Sqrt(squares / float64(degrees)), degrees}
}
