package fairness

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// RangeStudy is a gauge study by averages and ranges, which can be done by hand.
type RangeStudy struct {
	Gauge
	// MeanRange is the mean range of the trials of a car on a bench, BenchRange
	// that of the benches' means, CarRange that of the cars' means.
	MeanRange, BenchRange, CarRange float64
}

// AverageAndRange analyses values[car][bench][trial] of at least two each by
// ranges (AIAG, Measurement Systems Analysis, 4th ed. 2010, chapter III): less
// exact than [Crossed], and blind to what single cars do on single benches.
func AverageAndRange(values [][][]float64) (RangeStudy, error) {
	cars, benches, trials, err := shape(values, 2)
	if err != nil {
		return RangeStudy{}, err
	}
	var s RangeStudy
	var ranges sum
	ofCars, ofBenches := make([]float64, cars), make([]float64, benches)
	for c, ofCar := range values {
		for b, cell := range ofCar {
			ranges.add(slices.Max(cell) - slices.Min(cell))
			for _, v := range cell {
				ofCars[c] += v / float64(benches*trials)
				ofBenches[b] += v / float64(cars*trials)
			}
		}
	}
	s.MeanRange = ranges.value() / float64(cars*benches)
	s.BenchRange = slices.Max(ofBenches) - slices.Min(ofBenches)
	s.CarRange = slices.Max(ofCars) - slices.Min(ofCars)
	meanOfRange, _ := rangeMoments(trials)
	s.Repeat = s.MeanRange / meanOfRange
	own := s.BenchRange * oneRange(benches)
	s.Benches = math.Sqrt(math.Max(0, own*own-s.Repeat*s.Repeat/float64(cars*trials)))
	s.Cars = s.CarRange * oneRange(cars)
	s.finish()
	return s, nil
}

// oneRange is what one range of n values is multiplied by to estimate their
// standard deviation: 1/d₂*, the root of the mean square of such a range.
func oneRange(n int) float64 {
	_, square := rangeMoments(n)
	return 1 / math.Sqrt(square)
}

// rangeMoments returns the mean (d₂) and the mean square of the range of n
// values of the standard normal distribution (L. H. C. Tippett, On the Extreme
// Individuals and the Range of Samples Taken from a Normal Population,
// Biometrika 17, 1925).
func rangeMoments(n int) (mean, square float64) {
	below := func(x float64) float64 { return distuv.UnitNormal.CDF(x) }
	power := func(x float64) float64 { return math.Pow(x, float64(n)) }
	mean = quad.Fixed(func(x float64) float64 { return 1 - power(below(x)) - power(1-below(x)) }, -9, 9, 200, nil, 0)
	square = 2 * quad.Fixed(func(x float64) float64 {
		return quad.Fixed(func(y float64) float64 {
			return 1 - power(below(y)) - power(1-below(x)) + power(below(y)-below(x))
		}, x, 9, 60, nil, 0)
	}, -9, 9, 200, nil, 0)
	return mean, square
}
