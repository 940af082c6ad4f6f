package fairness

import "math"

// Summary describes one list of values.
type Summary struct {
	// N is how many there are.
	N int
	// Mean is their arithmetic mean, NaN of none.
	Mean float64
	// SD is the standard deviation with N-1 in the denominator, NaN of fewer than
	// two.
	SD float64
	// Lag1 is the autocorrelation of neighbours in the order given, with the mean
	// and the sum of squares of all in it; near 1 means that values drift. NaN
	// where all values are equal.
	Lag1 float64
}

// Summarise describes the values in two passes with compensated sums, so that a
// large constant part costs no digits beyond those that reading it in lost.
func Summarise(values []float64) Summary {
	s := Summary{N: len(values), Mean: math.NaN(), SD: math.NaN(), Lag1: math.NaN()}
	if s.N == 0 {
		return s
	}
	mean := meanOf(values)
	s.Mean = mean.value()
	squares := squaresAbout(values, mean)
	if s.N > 1 {
		s.SD = math.Sqrt(squares / float64(s.N-1))
	}
	if squares > 0 {
		var products sum
		for i := 1; i < len(values); i++ {
			products.add(mean.from(values[i-1]) * mean.from(values[i]))
		}
		s.Lag1 = products.value() / squares
	}
	return s
}
