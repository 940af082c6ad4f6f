package fairness

import (
	"cmp"
	"math"
	"slices"
)

// End is the end of a list that an outlier test looks at.
type End string

// The ends.
const (
	Lowest  End = "lowest"
	Highest End = "highest"
)

// Grubbs tests the value at one end of at least three: its distance from the
// mean in standard deviations, against the one-sided or two-sided points
// (F. E. Grubbs, Sample Criteria for Testing Outlying Observations, 1950). ISO
// 5725-2 looks at both ends of the benches' means, so it reads the two-sided
// points.
func Grubbs(names []string, values []float64, end End, twoSided bool) Finding {
	order, s := byEnd(values, end), Summarise(values)
	if len(values) < 3 || !(s.SD > 0) {
		return Finding{}
	}
	p := len(values)
	f := Finding{
		Who: []string{names[order[0]]}, Value: math.Abs(values[order[0]]-s.Mean) / s.SD,
		Critical5: CriticalGrubbs(p, 0.05, twoSided), Critical1: CriticalGrubbs(p, 0.01, twoSided),
	}
	f.Word = wordFor(f.Value, f.Critical5, f.Critical1)
	return f
}

// doubleGrubbsPoints are the 1 % and 5 % points of 4 to 40 values, where either
// end may be the one that is looked at: ISO 5725-2:1994, Table 5, after F. E.
// Grubbs and G. Beck, Extension of Sample Sizes and Percentage Points for
// Significance Tests of Outlying Observations, 1972. From memory; a test holds
// them to simulated lists.
var doubleGrubbsPoints = [...][2]float64{
	{0.0000, 0.0002},
	{0.0018, 0.0090},
	{0.0116, 0.0349},
	{0.0308, 0.0708},
	{0.0563, 0.1101}, // 4 to 8
	{0.0851, 0.1492},
	{0.1150, 0.1864},
	{0.1448, 0.2213},
	{0.1738, 0.2537},
	{0.2016, 0.2836},
	{0.2280, 0.3112},
	{0.2530, 0.3367},
	{0.2767, 0.3603},
	{0.2990, 0.3822},
	{0.3200, 0.4025},
	{0.3398, 0.4214},
	{0.3585, 0.4391},
	{0.3761, 0.4556},
	{0.3927, 0.4711},
	{0.4085, 0.4857},
	{0.4234, 0.4994},
	{0.4376, 0.5123},
	{0.4510, 0.5245},
	{0.4638, 0.5360},
	{0.4759, 0.5470},
	{0.4875, 0.5574},
	{0.4985, 0.5672},
	{0.5091, 0.5766},
	{0.5192, 0.5856},
	{0.5288, 0.5941},
	{0.5381, 0.6023},
	{0.5469, 0.6101},
	{0.5554, 0.6175},
	{0.5636, 0.6247},
	{0.5714, 0.6316},
	{0.5789, 0.6382},
	{0.5862, 0.6445}, // 39, 40
}

// DoubleGrubbs tests the two values at one end of at least four together, which
// hide each other from [Grubbs]: the sum of squares without them over that with
// them. Small values are suspicious. Critical points are known up to 40 values;
// beyond, the finding has no word.
func DoubleGrubbs(names []string, values []float64, end End) Finding {
	order := byEnd(values, end)
	ratio := doubleGrubbs(values, order)
	if len(values) < 4 || math.IsNaN(ratio) {
		return Finding{}
	}
	f := Finding{Who: []string{names[order[0]], names[order[1]]}, Value: ratio}
	if len(values)-4 >= len(doubleGrubbsPoints) {
		return f
	}
	points := doubleGrubbsPoints[len(values)-4]
	f.Critical1, f.Critical5 = points[0], points[1]
	// Small is suspicious, so both sides change their sign.
	f.Word = wordFor(-f.Value, -f.Critical5, -f.Critical1)
	return f
}

// doubleGrubbs is the statistic; NaN where nothing varies.
func doubleGrubbs(values []float64, order []int) float64 {
	if len(values) < 4 {
		return math.NaN()
	}
	rest := make([]float64, 0, len(values)-2)
	for _, i := range order[2:] {
		rest = append(rest, values[i])
	}
	all := squaresAbout(values, meanOf(values))
	if !(all > 0) {
		return math.NaN()
	}
	return squaresAbout(rest, meanOf(rest)) / all
}

// byEnd returns the places of the values, the most extreme first.
func byEnd(values []float64, end End) []int {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if end == Highest {
			i, j = j, i
		}
		return cmp.Compare(values[i], values[j])
	})
	return order
}

// Grubbs tests the lowest and the highest mean of the benches.
func (l Level) Grubbs() (low, high Finding) {
	names, means := l.means()
	return Grubbs(names, means, Lowest, true), Grubbs(names, means, Highest, true)
}

// DoubleGrubbs tests the two lowest and the two highest means.
func (l Level) DoubleGrubbs() (low, high Finding) {
	names, means := l.means()
	return DoubleGrubbs(names, means, Lowest), DoubleGrubbs(names, means, Highest)
}

func (l Level) means() (names []string, means []float64) {
	for _, c := range l.Cells {
		names, means = append(names, c.Name), append(means, c.Mean)
	}
	return names, means
}
