package fairness

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Median returns the middle value, or the mean of the two in the middle; NaN of
// none. The values keep their order.
func Median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	return (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
}

// madScale makes the median deviation of a normal distribution its standard
// deviation: 1/Φ⁻¹(3/4), rounded as is usual.
const madScale = 1.4826

// MAD returns the median of the absolute deviations from the median, scaled so
// that it estimates a standard deviation. Up to half of the values may be wrong.
func MAD(values []float64) float64 {
	middle := Median(values)
	deviations := make([]float64, len(values))
	for i, v := range values {
		deviations[i] = math.Abs(v - middle)
	}
	return madScale * Median(deviations)
}

// Turn is where Huber's estimates stop trusting a value: one that lies more
// than so many standard deviations from the centre counts as if it lay there.
const Turn = 1.5

// Most rounds of Huber's iteration, which needs a dozen or two.
const huberRounds = 1000

// Huber returns Huber's estimate of the centre with the scale fixed at [MAD]
// (P. J. Huber, Robust Estimation of a Location Parameter, 1964). Where the MAD
// is zero it is the median.
func Huber(values []float64) float64 {
	centre, scale := Median(values), MAD(values)
	if !(scale > 0) {
		return centre
	}
	for range huberRounds {
		last := centre
		centre = meanOf(drawnIn(values, centre, scale)).value()
		if math.Abs(centre-last) <= 1e-12*scale {
			break
		}
	}
	return centre
}

// HuberProposal2 returns Huber's second proposal, which estimates centre and
// scale together. Where the MAD is zero it is the median and zero.
func HuberProposal2(values []float64) (centre, scale float64) {
	centre, scale = Median(values), MAD(values)
	if !(scale > 0) {
		return centre, scale
	}
	// What drawing in leaves of the variance of a normal distribution.
	n := distuv.UnitNormal
	inside := 2*n.CDF(Turn) - 1
	kept := inside + Turn*Turn*(1-inside) - 2*Turn*n.Prob(Turn)
	for range huberRounds {
		lastCentre, lastScale := centre, scale
		near := drawnIn(values, centre, scale)
		mean := meanOf(near)
		centre = mean.value()
		scale = math.Sqrt(squaresAbout(near, mean) / float64(len(near)-1) / kept)
		if math.Abs(centre-lastCentre) <= 1e-12*scale && math.Abs(scale-lastScale) <= 1e-12*scale {
			break
		}
	}
	return centre, scale
}

// drawnIn returns the values, those far from the centre moved to its edge.
func drawnIn(values []float64, centre, scale float64) []float64 {
	near := make([]float64, len(values))
	for i, v := range values {
		near[i] = min(max(v, centre-Turn*scale), centre+Turn*scale)
	}
	return near
}
