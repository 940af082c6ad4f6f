package fairness

import (
	"math"

	"benchmeet/domain/refusal"
)

// Group is what one bench read.
type Group struct {
	Name   string
	Values []float64
}

// Cell is a group in three numbers.
type Cell struct {
	Name string
	N    int
	// Mean and SD are those of its values; SD is NaN where N is 1.
	Mean, SD float64
	mean     precise
}

// Level is the one-way analysis of what several benches read of the same thing,
// after ISO 5725-2:1994 (7.4). All figures are in the unit of the values.
type Level struct {
	// Cells are the benches in the order given.
	Cells []Cell
	// N is the number of values.
	N int
	// Mean is the mean of all values; MeanOfMeans that of the benches' means,
	// each counted once.
	Mean, MeanOfMeans float64
	// Repeatability is s_r, the standard deviation at one bench; Between is s_L,
	// that of the benches' own levels; Reproducibility is s_R, that of single
	// values of different benches.
	Repeatability, Between, Reproducibility float64
	// NMean is the number of values a bench that counts for s_L where benches
	// have unequal ones.
	NMean float64
	// SDOfMeans is s_d per value: sqrt of the mean square between benches over
	// NMean; for equal numbers it is the standard deviation of the means.
	SDOfMeans float64
	// F is the mean square between benches over that within, with DegreesBetween
	// and DegreesWithin; NaN where nothing varies within.
	F                             float64
	DegreesBetween, DegreesWithin int
	// SquaresBetween and SquaresWithin are the sums of squares.
	SquaresBetween, SquaresWithin float64
}

// LimitFactor makes a repeatability or reproducibility standard deviation the
// limit below which 95 of 100 differences of two values lie: 1.96 √2, rounded
// as ISO 5725-6 does.
const LimitFactor = 2.8

// LevelOf analyses the values of at least two benches, of which one has at least
// two values. Values are finite.
func LevelOf(groups []Group) (Level, error) {
	l := Level{Cells: make([]Cell, len(groups))}
	all := make([]float64, 0, 64)
	for i, g := range groups {
		if len(g.Values) == 0 {
			return Level{}, refusal.New("study-empty", "bench", g.Name)
		}
		for _, v := range g.Values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return Level{}, refusal.New("study-value", "bench", g.Name)
			}
		}
		c := Cell{Name: g.Name, N: len(g.Values), SD: math.NaN(), mean: meanOf(g.Values)}
		squares := squaresAbout(g.Values, c.mean)
		c.Mean = c.mean.value()
		if c.N > 1 {
			c.SD = math.Sqrt(squares / float64(c.N-1))
		}
		l.Cells[i] = c
		l.SquaresWithin += squares
		all = append(all, g.Values...)
	}
	if len(all) == 0 {
		return Level{}, refusal.New("study-short")
	}
	return l.finish(meanOf(all))
}

// LevelOfCells analyses benches of which only numbers of values, means and
// standard deviations are known.
func LevelOfCells(cells []Cell) (Level, error) {
	l := Level{Cells: make([]Cell, len(cells))}
	var total sum
	n := 0
	for i, c := range cells {
		if c.N < 1 {
			return Level{}, refusal.New("study-empty", "bench", c.Name)
		}
		if math.IsNaN(c.Mean) || math.IsInf(c.Mean, 0) || c.N > 1 && !(c.SD >= 0 && c.SD < math.Inf(1)) {
			return Level{}, refusal.New("study-value", "bench", c.Name)
		}
		c.mean = precise{high: c.Mean}
		if c.N == 1 {
			c.SD = math.NaN()
		} else {
			l.SquaresWithin += float64(c.N-1) * c.SD * c.SD
		}
		l.Cells[i] = c
		total.add(float64(c.N) * c.Mean)
		n += c.N
	}
	if n == 0 {
		return Level{}, refusal.New("study-short")
	}
	return l.finish(precise{high: total.value() / float64(n)})
}

// finish computes from the cells, the sum of squares within and the mean of all.
func (l Level) finish(mean precise) (Level, error) {
	p := len(l.Cells)
	var squares float64 // of the numbers of values
	var between sum
	means := make([]float64, p)
	for i, c := range l.Cells {
		l.N += c.N
		squares += float64(c.N) * float64(c.N)
		d := c.mean.minus(mean)
		between.add(float64(c.N) * d * d)
		means[i] = c.Mean
	}
	if p < 2 || l.N == p {
		return Level{}, refusal.New("study-short")
	}
	l.Mean, l.MeanOfMeans = mean.value(), meanOf(means).value()
	l.SquaresBetween = between.value()
	l.DegreesBetween, l.DegreesWithin = p-1, l.N-p
	msBetween := l.SquaresBetween / float64(l.DegreesBetween)
	msWithin := l.SquaresWithin / float64(l.DegreesWithin)
	l.F = math.NaN()
	if msWithin > 0 {
		l.F = msBetween / msWithin
	}
	l.NMean = (float64(l.N) - squares/float64(l.N)) / float64(p-1)
	l.SDOfMeans = math.Sqrt(msBetween / l.NMean)
	between2 := math.Max(0, (msBetween-msWithin)/l.NMean)
	l.Repeatability = math.Sqrt(msWithin)
	l.Between = math.Sqrt(between2)
	l.Reproducibility = math.Sqrt(between2 + msWithin)
	return l, nil
}

// E691 gives the figures in the convention of ASTM E691, which asks for the same
// number n of values from every bench: the standard deviation of the means, and
// s_R = sqrt(max(s_x̄² + s_r² (n-1)/n, s_r²)). ok is false for unequal numbers.
func (l Level) E691() (sdOfMeans, reproducibility float64, ok bool) {
	n := l.Cells[0].N
	means := make([]float64, len(l.Cells))
	for i, c := range l.Cells {
		if c.N != n {
			return 0, 0, false
		}
		means[i] = c.Mean
	}
	sdOfMeans = Summarise(means).SD
	r2 := l.Repeatability * l.Repeatability
	return sdOfMeans, math.Sqrt(math.Max(sdOfMeans*sdOfMeans+r2*float64(n-1)/float64(n), r2)), true
}

// UMean is the standard uncertainty of the mean of all values where benches have
// equal numbers of them and differ among themselves (GUM H.5): that of the means
// over the root of their number.
func (l Level) UMean() float64 { return l.SDOfMeans / math.Sqrt(float64(len(l.Cells))) }

// typicalN is the number of values that most benches have, of equally frequent
// ones the smallest; critical values of unequal benches are read at it (ISO
// 5725-2, 7.3.3.3). Benches with one value are left out.
func (l Level) typicalN() int {
	best, bestCount := 0, 0
	for _, c := range l.Cells {
		count := 0
		for _, d := range l.Cells {
			if d.N == c.N {
				count++
			}
		}
		if c.N > 1 && (count > bestCount || count == bestCount && c.N < best) {
			best, bestCount = c.N, count
		}
	}
	return best
}
