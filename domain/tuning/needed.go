package tuning

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// power wanted of a planned comparison: four of five true differences are seen.
const wantedPower = 0.8

// Needed returns how many fittings, run in the order of [Order], show a relative change
// in four of five comparisons, when fittings scatter by sd (relative) about a curved
// drift that is fitted with them; false where [MostFittings] do not. It is even, and at
// least eight, the fewest that lose a curved drift whole.
func Needed(change, sd float64) (int, bool) {
	if !(change > 0) || !(sd > 0) {
		return 0, false
	}
	for n := 8; n <= MostFittings; n += 2 {
		list := make([]unit, n)
		for i, changed := range Order(n) {
			list[i] = unit{at: float64(i), changed: changed}
		}
		fit, apart := fitUnits(list)
		if apart && power(change/(sd*math.Sqrt(fit.factor)), float64(fit.degrees), Level(0)) >= wantedPower {
			return n, true
		}
	}
	return 0, false
}

// power is how often Student's t passes its two-sided level when the true difference is
// so many standard uncertainties.
func power(difference, degrees, level float64) float64 {
	limit := distuv.StudentsT{Sigma: 1, Nu: degrees}.Quantile(1 - level/2)
	return 1 - shiftedT(limit, difference, degrees) + shiftedT(-limit, difference, degrees)
}

// shiftedT is the distribution of (z + shift) / sqrt(chi2/degrees), the noncentral t: the
// normal distribution at t times each possible scatter, weighed by how often that comes.
func shiftedT(t, shift, degrees float64) float64 {
	chi2 := distuv.ChiSquared{K: degrees}
	// In the root of chi2/degrees the density is smooth; beyond these ends lie 1e-12.
	low := math.Sqrt(chi2.Quantile(1e-12) / degrees)
	high := math.Sqrt(chi2.Quantile(1-1e-12) / degrees)
	return quad.Fixed(func(s float64) float64 {
		return distuv.UnitNormal.CDF(t*s-shift) * chi2.Prob(s*s*degrees) * 2 * s * degrees
	}, low, high, 96, nil, 0)
}
