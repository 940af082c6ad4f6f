package dayplan

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/day"
)

// mostBenches is up to how many benches that fall free at once the last of them is reckoned.
const mostBenches = 12

// lastOf is how many times as long the last bench of a heat takes to be changed over as one
// bench does on average. Benches that fell free at once are ready one after another, and a
// heat is called when the last of its own is: of three it waits longer than the mean, and
// those that were called before it had the first.
func lastOf(h day.Heat, sinceUS int64, free map[day.BenchID]int64, fell map[int64]int) float64 {
	mine, still := 0, 0
	for _, l := range h.Lanes {
		if free[l.Bench] == sinceUS {
			mine++
		}
	}
	for _, at := range free {
		if at == sinceUS {
			still++
		}
	}
	n := min(max(1, fell[sinceUS]), mostBenches)
	return inTurnOf[n][min(max(1, n-still+mine), n)]
}

// inTurnOf holds, for n benches that are changed over at once, how many times as long as on
// average the k-th to be ready takes: the means of the order statistics of lognormal lengths
// of the usual scatter (H. A. David and H. N. Nagaraja, "Order Statistics", 3rd edition 2003,
// section 3.1), by the midpoint rule.
var inTurnOf = readyInTurn()

func readyInTurn() (out [mostBenches + 1][mostBenches + 1]float64) {
	const steps = 100
	v := math.Log1p(usual[changeKind].scatter * usual[changeKind].scatter)
	for n := 1; n <= mostBenches; n++ {
		for k := 1; k <= n; k++ {
			place := distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}
			sum := 0.0
			for i := range steps {
				u := (float64(i) + 0.5) / steps
				sum += place.Prob(u) * math.Exp(math.Sqrt(v)*distuv.UnitNormal.Quantile(u)-v/2)
			}
			out[n][k] = sum / steps
		}
	}
	return out
}
