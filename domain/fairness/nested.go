package fairness

import "math"

// NestedStudy takes the scatter of repeats within heats within benches apart.
type NestedStudy struct {
	Mean float64
	// Outer, Inner and Repeats are the three lines of the analysis: benches,
	// heats within benches, repeats within heats. F is each mean square over the
	// next one.
	Outer, Inner, Repeats Source
	// OuterVariance, InnerVariance and RepeatVariance are the components of the
	// variance; negative ones are set to zero.
	OuterVariance, InnerVariance, RepeatVariance float64
	// TotalSD is the standard deviation of a single value of any bench and heat.
	TotalSD float64
}

// Nested analyses values[bench][heat][repeat] of at least two each, with equal
// numbers throughout, as a nested analysis of variance with random effects (the
// layout of CLSI EP05-A3).
func Nested(values [][][]float64) (NestedStudy, error) {
	outer, inner, repeats, err := shape(values, 2)
	if err != nil {
		return NestedStudy{}, err
	}
	var all []float64
	for _, bench := range values {
		for _, heat := range bench {
			all = append(all, heat...)
		}
	}
	mean := meanOf(all)
	s := NestedStudy{Mean: mean.value()}
	for _, bench := range values {
		var ofBench []float64
		for _, heat := range bench {
			ofBench = append(ofBench, heat...)
		}
		benchMean := meanOf(ofBench)
		d := benchMean.minus(mean)
		s.Outer.Squares += float64(inner*repeats) * d * d
		for _, heat := range bench {
			heatMean := meanOf(heat)
			d := heatMean.minus(benchMean)
			s.Inner.Squares += float64(repeats) * d * d
			s.Repeats.Squares += squaresAbout(heat, heatMean)
		}
	}
	s.Outer.Degrees, s.Inner.Degrees, s.Repeats.Degrees = outer-1, outer*(inner-1), outer*inner*(repeats-1)
	// Each line is tested against the one below, whose scatter it holds as well; below the repeats
	// there is none.
	s.Repeats.weigh(math.NaN(), 0)
	s.Inner.weigh(s.Repeats.MS, s.Repeats.Degrees)
	s.Outer.weigh(s.Inner.MS, s.Inner.Degrees)
	// From the expected mean squares: that of heats holds repeats times the variance of heats beside
	// that of the repeats, that of benches heats times repeats the variance of benches on top.
	s.RepeatVariance = s.Repeats.MS
	s.InnerVariance = math.Max(0, (s.Inner.MS-s.Repeats.MS)/float64(repeats))
	s.OuterVariance = math.Max(0, (s.Outer.MS-s.Inner.MS)/float64(inner*repeats))
	s.TotalSD = math.Sqrt(s.OuterVariance + s.InnerVariance + s.RepeatVariance)
	return s, nil
}
