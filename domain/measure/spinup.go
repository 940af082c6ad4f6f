package measure

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrNoFit is returned where points do not show what is to be fitted.
var ErrNoFit = errors.New("the points do not show what is to be fitted: give more of them, from a run that does")

// SpinUp is a first-order spin-up: speed Top (1 - exp(-(t - Begin)/Tau)).
type SpinUp struct {
	Top   float64 // the speed that is tended to, in the unit of the points
	Tau   float64 // s
	Begin float64 // s; when the roller began to turn
}

// FitSpinUp fits a spin-up to times in s and speeds. As speed and acceleration of
// such a rise lie on a straight line, dv/dt = (Top - v)/Tau, it finds Top and
// Tau by the integral form of that line, v = Top/Tau t - 1/Tau (integral of v) +
// a constant, by least squares; scatter is not amplified as it would be by
// differences. The begin follows from the first point. Cost is linear.
func FitSpinUp(times, speeds []float64) (SpinUp, error) {
	n := len(times)
	if n < 4 || n != len(speeds) {
		return SpinUp{}, ErrNoFit
	}
	integral := 0.0
	rows := make([][]float64, n)
	for i := range times {
		if i > 0 {
			integral += (times[i] - times[i-1]) * (speeds[i] + speeds[i-1]) / 2
		}
		rows[i] = []float64{1, times[i] - times[0], integral}
	}
	c, ok := leastSquares(rows, speeds)
	if !ok || c[2] >= 0 || c[1] <= 0 {
		return SpinUp{}, ErrNoFit
	}
	r := SpinUp{Tau: -1 / c[2], Top: -c[1] / c[2]}
	// The constant is the fitted speed at the first point.
	if c[0] >= r.Top {
		return SpinUp{}, ErrNoFit
	}
	r.Begin = times[0] + r.Tau*math.Log1p(-c[0]/r.Top)
	return r, nil
}

// leastSquares solves rows c = values for c. It reports whether the columns are
// independent enough to do so.
func leastSquares(rows [][]float64, values []float64) ([]float64, bool) {
	m := len(rows[0])
	a := mat.NewDense(len(rows), m, nil)
	for i, row := range rows {
		a.SetRow(i, row)
	}
	var qr mat.QR
	qr.Factorize(a)
	var c mat.VecDense
	if err := qr.SolveVecTo(&c, false, mat.NewVecDense(len(values), values)); err != nil {
		return nil, false
	}
	return c.RawVector().Data, true
}
