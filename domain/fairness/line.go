package fairness

import (
	"errors"
	"math"
)

// Line is a straight line y = At0 + Slope x fitted by least squares.
type Line struct {
	At0, Slope float64
	// UAt0 and USlope are their standard uncertainties, Correlation what ties
	// them together (GUM H.3).
	UAt0, USlope, Correlation float64
	// SD is the residual standard deviation, with Degrees degrees of freedom.
	SD      float64
	Degrees int
	// RSquared is the part of the scatter of y that the line explains.
	RSquared float64
}

// FitLine fits a straight line to at least three points that do not all have
// the same x. It stands beside [FitTheilSen]: where the two slopes are far
// apart, a few points rule the line.
func FitLine(x, y []float64) (Line, error) {
	if len(x) != len(y) || len(x) < 3 {
		return Line{}, errors.New("a line needs at least three points, each with x and y")
	}
	mx, my := meanOf(x), meanOf(y)
	sxx, syy := squaresAbout(x, mx), squaresAbout(y, my)
	// Written the other way round, so that NaN is refused too.
	if !(sxx > 0) || math.IsInf(sxx, 0) || math.IsNaN(syy) {
		return Line{}, errors.New("a line needs finite points at two or more different x")
	}
	var sxy sum
	for i := range x {
		sxy.add(mx.from(x[i]) * my.from(y[i]))
	}
	l := Line{Slope: sxy.value() / sxx, Degrees: len(x) - 2}
	l.At0 = my.value() - l.Slope*mx.value()
	var squares sum
	for i := range x {
		r := my.from(y[i]) - l.Slope*mx.from(x[i])
		squares.add(r * r)
	}
	l.SD = math.Sqrt(squares.value() / float64(l.Degrees))
	l.USlope = l.SD / math.Sqrt(sxx)
	// The mean of the squares of x, which both formulas of the GUM need.
	spread := sxx/float64(len(x)) + mx.value()*mx.value()
	l.UAt0 = l.USlope * math.Sqrt(spread)
	l.Correlation = -mx.value() / math.Sqrt(spread)
	// Where y does not scatter at all there is nothing that the line leaves unexplained.
	l.RSquared = 1
	if syy > 0 {
		l.RSquared = 1 - squares.value()/syy
	}
	return l, nil
}

// At returns the line's value at x and its standard uncertainty.
func (l Line) At(x float64) (value, u float64) {
	u2 := l.UAt0*l.UAt0 + x*x*l.USlope*l.USlope + 2*x*l.UAt0*l.USlope*l.Correlation
	return l.At0 + l.Slope*x, math.Sqrt(math.Max(0, u2))
}
