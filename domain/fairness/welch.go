package fairness

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// TwoMeans is the comparison of two lists whose spreads may differ.
type TwoMeans struct {
	// Difference is the mean of the first less that of the second; Low and High
	// bound it with 95 % confidence.
	Difference, Low, High float64
	// T is the difference over its standard uncertainty, with Degrees degrees of
	// freedom; P is how often chance alone gives one as large, either way.
	T, Degrees, P float64
}

// Welch compares two means without taking the spreads as equal (B. L. Welch, The
// Generalization of Student's Problem when Several Different Population
// Variances are Involved, Biometrika 34, 1947). Each list needs two values, and
// one of them some spread.
func Welch(a, b []float64) (TwoMeans, error) {
	if len(a) < 2 || len(b) < 2 {
		return TwoMeans{}, errors.New("comparing two means needs at least two values of each")
	}
	sa, sb := Summarise(a), Summarise(b)
	va, vb := sa.SD*sa.SD/float64(sa.N), sb.SD*sb.SD/float64(sb.N)
	if !(va+vb > 0) || math.IsInf(va+vb, 0) {
		return TwoMeans{}, errors.New("comparing two means needs some spread: all values of each are equal")
	}
	w := TwoMeans{Difference: sa.Mean - sb.Mean}
	w.Degrees = (va + vb) * (va + vb) / (va*va/float64(sa.N-1) + vb*vb/float64(sb.N-1))
	u := math.Sqrt(va + vb)
	w.T = w.Difference / u
	student := distuv.StudentsT{Sigma: 1, Nu: w.Degrees}
	w.P = 2 * student.CDF(-math.Abs(w.T))
	half := student.Quantile(0.975) * u
	w.Low, w.High = w.Difference-half, w.Difference+half
	return w, nil
}
