package fairness

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/refusal"
)

// Source is one line of an analysis of variance.
type Source struct {
	Degrees int
	Squares float64
	// MS is the mean square, F that over the mean square of repeats, P how often
	// chance gives one as large; NaN where they do not apply.
	MS, F, P float64
}

// Gauge is a study of how much of the scatter comes from the benches: each of
// several cars runs the same number of times on each of several benches. All
// are standard deviations in the unit of the values.
type Gauge struct {
	// Repeat is that of a car on one bench (equipment variation, EV).
	Repeat float64
	// Benches is that of the benches, with what single cars do on single benches
	// (appraiser variation, AV).
	Benches float64
	// Gauge is both together (GRR), Cars that of the cars (PV), Total all (TV).
	Gauge, Cars, Total float64
	// Distinct is how many classes of cars the benches can tell apart, 1.41 PV /
	// GRR, not rounded; +Inf where the benches add nothing.
	Distinct float64
}

// Percent returns Repeat, Benches, Gauge and Cars in per cent of Total. They are
// ratios of standard deviations and do not add up to 100; those of Contribution
// do.
func (g Gauge) Percent() [4]float64 {
	return [4]float64{100 * g.Repeat / g.Total, 100 * g.Benches / g.Total, 100 * g.Gauge / g.Total, 100 * g.Cars / g.Total}
}

// Contribution returns the shares in the variance in per cent; the third is the
// sum of the first two, and with the fourth makes 100.
func (g Gauge) Contribution() [4]float64 {
	out := g.Percent()
	for i, v := range out {
		out[i] = v * v / 100
	}
	return out
}

func (g *Gauge) finish() {
	g.Gauge = math.Hypot(g.Repeat, g.Benches)
	g.Total = math.Hypot(g.Gauge, g.Cars)
	g.Distinct = 1.41 * g.Cars / g.Gauge
}

// CrossedStudy is a gauge study by analysis of variance.
type CrossedStudy struct {
	Gauge
	CarsSource, BenchesSource, Interaction, Repeats Source
	// Pooled says that single cars do nothing of their own on single benches, and
	// that the interaction was therefore taken as noise.
	Pooled bool
	// InteractionSD is the standard deviation of the interaction; 0 where pooled.
	InteractionSD float64
	// InteractionRaw is the variance component before negative ones are set to
	// zero, as if it were not pooled.
	InteractionRaw float64
}

// PoolAbove is the usual point: an interaction that chance gives more often than
// this is taken as noise (common practice).
const PoolAbove = 0.25

// Crossed analyses values[car][bench][trial] of at least two each, all of the
// same number of trials, by two-way analysis of variance with random effects
// (AIAG, Measurement Systems Analysis, 4th ed. 2010, chapter III). The interaction is
// pooled with the repeats where its P is above poolAbove. Negative components
// are zero.
func Crossed(values [][][]float64, poolAbove float64) (CrossedStudy, error) {
	cars, benches, trials, err := shape(values, 2)
	if err != nil {
		return CrossedStudy{}, err
	}
	var all []float64
	byCar, byBench := make([][]float64, cars), make([][]float64, benches)
	var s CrossedStudy
	for c, ofCar := range values {
		for b, cell := range ofCar {
			s.Repeats.Squares += squaresAbout(cell, meanOf(cell))
			all = append(all, cell...)
			byCar[c], byBench[b] = append(byCar[c], cell...), append(byBench[b], cell...)
		}
	}
	mean := meanOf(all)
	// Squares between groups: each effect counts once for every value that shares it.
	effect := func(groups [][]float64) ([]float64, float64) {
		effects := make([]float64, len(groups))
		var squares sum
		for i, g := range groups {
			effects[i] = meanOf(g).minus(mean)
			squares.add(float64(len(g)) * effects[i] * effects[i])
		}
		return effects, squares.value()
	}
	var ofCars, ofBenches []float64
	ofCars, s.CarsSource.Squares = effect(byCar)
	ofBenches, s.BenchesSource.Squares = effect(byBench)
	for c, ofCar := range values {
		for b, cell := range ofCar {
			// What is left of a cell when both effects are gone is the interaction.
			d := meanOf(cell).minus(mean) - ofCars[c] - ofBenches[b]
			s.Interaction.Squares += float64(trials) * d * d
		}
	}
	s.CarsSource.Degrees, s.BenchesSource.Degrees = cars-1, benches-1
	s.Interaction.Degrees, s.Repeats.Degrees = (cars-1)*(benches-1), cars*benches*(trials-1)
	s.components(float64(cars), float64(benches), float64(trials), poolAbove)
	return s, nil
}

func (s *CrossedStudy) components(cars, benches, trials, poolAbove float64) {
	s.Repeats.weigh(math.NaN(), 0)
	for _, source := range []*Source{&s.CarsSource, &s.BenchesSource, &s.Interaction} {
		source.weigh(s.Repeats.MS, s.Repeats.Degrees)
	}
	s.InteractionRaw = (s.Interaction.MS - s.Repeats.MS) / trials
	noise, against := s.Repeats.MS, s.Interaction.MS
	if s.Pooled = s.Interaction.P > poolAbove; s.Pooled {
		noise = (s.Interaction.Squares + s.Repeats.Squares) / float64(s.Interaction.Degrees+s.Repeats.Degrees)
		against = noise
	} else {
		s.InteractionSD = math.Sqrt(math.Max(0, s.InteractionRaw))
	}
	s.Repeat = math.Sqrt(noise)
	ofBenches := math.Sqrt(math.Max(0, (s.BenchesSource.MS-against)/(cars*trials)))
	s.Benches = math.Hypot(ofBenches, s.InteractionSD)
	s.Cars = math.Sqrt(math.Max(0, (s.CarsSource.MS-against)/(benches*trials)))
	s.finish()
}

// weigh fills in the mean square, and F and P against that of the noise.
func (s *Source) weigh(noise float64, noiseDegrees int) {
	s.MS, s.F, s.P = s.Squares/float64(s.Degrees), math.NaN(), math.NaN()
	if noise > 0 {
		s.F = s.MS / noise
		s.P = distuv.F{D1: float64(s.Degrees), D2: float64(noiseDegrees)}.Survival(s.F)
	}
}

// shape returns the numbers of a balanced study and refuses any other.
func shape(values [][][]float64, leastTrials int) (outer, inner, trials int, err error) {
	outer = len(values)
	if outer < 2 || len(values[0]) < 2 || len(values[0][0]) < leastTrials {
		return 0, 0, 0, refusal.New("study-shape")
	}
	inner, trials = len(values[0]), len(values[0][0])
	for _, group := range values {
		if len(group) != inner {
			return 0, 0, 0, refusal.New("study-shape")
		}
		for _, cell := range group {
			if len(cell) != trials {
				return 0, 0, 0, refusal.New("study-shape")
			}
			for _, v := range cell {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					return 0, 0, 0, refusal.New("study-shape")
				}
			}
		}
	}
	return outer, inner, trials, nil
}
