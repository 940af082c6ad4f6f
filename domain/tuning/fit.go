package tuning

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// line is a least-squares fit of values to columns.
type line struct {
	beta    []float64
	factor  float64 // variance of beta[0] over that of one value
	squares float64 // sum of the squared residuals
	degrees int
}

// worst is the condition of the normal equations from which on the columns are taken
// as not settling their coefficients: those of positions are scaled to stay far below.
const worst = 1e8

// fitLine fits y to the columns; false where they do not settle all coefficients.
func fitLine(y []float64, columns ...[]float64) (line, bool) {
	p := len(columns)
	if len(y) < p {
		return line{}, false
	}
	normal := mat.NewSymDense(p, nil)
	right := mat.NewVecDense(p, nil)
	for i, a := range columns {
		for j := i; j < p; j++ {
			normal.SetSym(i, j, dot(a, columns[j]))
		}
		right.SetVec(i, dot(a, y))
	}
	var cholesky mat.Cholesky
	if !cholesky.Factorize(normal) || cholesky.Cond() > worst {
		return line{}, false
	}
	first := mat.NewVecDense(p, nil)
	first.SetVec(0, 1)
	var beta, column mat.VecDense
	_ = cholesky.SolveVecTo(&beta, right) // the condition was looked at above
	_ = cholesky.SolveVecTo(&column, first)
	l := line{beta: beta.RawVector().Data, factor: column.AtVec(0), degrees: len(y) - p}
	for i, v := range y {
		for j, c := range columns {
			v -= l.beta[j] * c[i]
		}
		l.squares += v * v
	}
	return l, true
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// centred maps positions to -1 ... 1, so that powers of them stay apart.
func centred(at []float64) []float64 {
	low, high := at[0], at[0]
	for _, v := range at {
		low, high = min(low, v), max(high, v)
	}
	out := make([]float64, len(at))
	for i, v := range at {
		out[i] = (2*v - low - high) / math.Max(high-low, 1e-12)
	}
	return out
}
