package fairness

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Trend is a slope that a few gross errors do not move.
type Trend struct {
	// Slope is the median of the slopes of all pairs of points; Low and High
	// bound it with 95 % confidence.
	Slope, Low, High float64
	// At0 is median(y) - Slope median(x), one of several conventions.
	At0 float64
	// Pairs is how many slopes there were.
	Pairs int
}

// Significant says whether the interval leaves out zero.
func (t Trend) Significant() bool { return t.Low > 0 || t.High < 0 }

// FitTheilSen fits a line by the median of all pairwise slopes (H. Theil 1950;
// P. K. Sen, Estimates of the Regression Coefficient Based on Kendall's Tau,
// J. Am. Stat. Assoc. 63, 1968, whose interval it gives, with ties in x). With
// few points, or at very few x, the interval is the whole line. It takes time
// and memory with the square of the number of points.
func FitTheilSen(x, y []float64) (Trend, error) { return theilSen(x, y, confidence) }

// theilSen is FitTheilSen with an interval of another confidence.
func theilSen(x, y []float64, confidence float64) (Trend, error) {
	if len(x) != len(y) {
		return Trend{}, errors.New("a trend needs a y for each x")
	}
	var slopes []float64
	for i := range x {
		for j := range i {
			if x[i] != x[j] {
				slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
			}
		}
	}
	if len(slopes) == 0 || slices.ContainsFunc(slopes, math.IsNaN) {
		return Trend{}, errors.New("a trend needs finite points at two or more different x")
	}
	slices.Sort(slopes)
	t := Trend{Slope: Median(slopes), Pairs: len(slopes), Low: math.Inf(-1), High: math.Inf(1)}
	t.At0 = Median(y) - t.Slope*Median(x)
	reach := distuv.UnitNormal.Quantile(1-(1-confidence)/2) * math.Sqrt(kendallVariance(x, y))
	low, high := (float64(t.Pairs)-reach)/2, (float64(t.Pairs)+reach)/2
	if i := int(math.Floor(low)) - 1; i >= 0 {
		t.Low = slopes[i]
	}
	if i := int(math.Ceil(high)); i < len(slopes) {
		t.High = slopes[i]
	}
	return t, nil
}

// kendallVariance is the variance of the number of concordant less that of
// discordant pairs where there is no trend, with ties in both.
func kendallVariance(x, y []float64) float64 {
	n := float64(len(x))
	v0 := n * (n - 1) * (2*n + 5)
	var one, two [2]float64
	for k, list := range [][]float64{x, y} {
		for _, t := range ties(list) {
			v0 -= t * (t - 1) * (2*t + 5)
			one[k] += t * (t - 1)
			two[k] += t * (t - 1) * (t - 2)
		}
	}
	v := v0 / 18
	if n > 2 {
		v += one[0]*one[1]/(2*n*(n-1)) + two[0]*two[1]/(9*n*(n-1)*(n-2))
	}
	return v
}

// ties returns how many values share each value that occurs more than once.
func ties(list []float64) []float64 {
	sorted := slices.Sorted(slices.Values(list))
	var out []float64
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		if j-i > 1 {
			out = append(out, float64(j-i))
		}
		i = j
	}
	return out
}
