package fairness

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Estimate is a value with its standard uncertainty and the degrees of freedom
// behind that; 0 degrees means infinite.
type Estimate struct{ Value, U, Degrees float64 }

// Minus returns the difference of two independent estimates; the degrees of
// freedom are Welch and Satterthwaite's (GUM G.4).
func (e Estimate) Minus(o Estimate) Estimate {
	v, w := e.U*e.U, o.U*o.U
	d := Estimate{Value: e.Value - o.Value, U: math.Sqrt(v + w)}
	weighted := 0.0
	if e.Degrees > 0 {
		weighted += v * v / e.Degrees
	}
	if o.Degrees > 0 {
		weighted += w * w / o.Degrees
	}
	if weighted > 0 {
		d.Degrees = (v + w) * (v + w) / weighted
	}
	return d
}

// TooClose says whether a difference is at most what its uncertainty allows at a
// confidence above 0 and below 1, so that its sign is not known. An estimate
// without uncertainty is taken as exact. Standings have a form of this in whole
// numbers, which is the one that counts in a meet.
func (e Estimate) TooClose(confidence float64) bool {
	return e.U > 0 && math.Abs(e.Value) <= e.reach(confidence)*e.U
}

func (e Estimate) reach(confidence float64) float64 {
	upper := 1 - (1-confidence)/2
	if e.Degrees > 0 {
		return distuv.StudentsT{Sigma: 1, Nu: e.Degrees}.Quantile(upper)
	}
	return distuv.UnitNormal.Quantile(upper)
}

// Difference returns ln of what one car does over what another does on the same
// bench, with all that the fit knows: cars that met the same benches share the
// errors of these, which then cancel. It is an error to ask for cars that did
// not run or that nothing ties together, benches or rounds, or where there is nothing to judge the
// noise by.
func (f *Fit) Difference(car, other string) (Estimate, error) {
	a, aThere := slices.BinarySearch(f.graph.cars, car)
	b, bThere := slices.BinarySearch(f.graph.cars, other)
	switch {
	case !aThere || !bThere:
		return Estimate{}, fmt.Errorf("cars %s and %s have not both run", car, other)
	case !f.Connected():
		return Estimate{}, fmt.Errorf("the benches that cars %s and %s ran on cannot be compared", car, other)
	case !f.graph.sameRounds(a, b):
		return Estimate{}, fmt.Errorf("cars %s and %s have not run in the same rounds, nor do others tie theirs together", car, other)
	case f.Degrees <= 0:
		return Estimate{}, fmt.Errorf("there are too few runs to say how sure a difference of cars %s and %s is", car, other)
	case a == b:
		return Estimate{Degrees: float64(f.Degrees)}, nil
	}
	// A car's level is the mean of its runs less that of its benches' levels.
	way := append(f.graph.way(a, -1), f.graph.way(b, 1)...)
	variance := 1/f.graph.ofCar[a] + 1/f.graph.ofCar[b] + math.Max(0, f.varianceOf(way))
	return Estimate{
		Value: f.carLevel[a] - f.carLevel[b], U: f.Repeatability * math.Sqrt(variance), Degrees: float64(f.Degrees),
	}, nil
}

// Level returns what a car does on a bench that reads as the geometric mean of
// all benches does, in the mean of the rounds that its rivals ran in, in the unit of
// the values; NaN for a car that did not run,
// or where the benches are not tied together.
func (f *Fit) Level(car string) float64 {
	i, there := slices.BinarySearch(f.graph.cars, car)
	if !there || !f.Connected() {
		return math.NaN()
	}
	return math.Exp(f.level + f.carLevel[i])
}

// CarNames returns the cars of the fit in the order of their names.
func (f *Fit) CarNames() []string { return slices.Clone(f.graph.cars) }
