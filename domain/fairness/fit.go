package fairness

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"benchmeet/domain/refusal"
)

// Run is one result of a car on a bench.
type Run struct {
	Bench, Car string
	// Value is the distance, speed or time, above zero, in any one unit.
	Value float64
	// At is when it was, in hours since any moment or as the number of its round,
	// as the [Clock] says; for drift. 0 for all is fine where it is not known.
	At float64
	// Round names what was run side by side: cars lose speed from round to round, as
	// batteries fade, and that is no bench's doing. Empty for all is fine where it is
	// not known.
	Round string
}

// Clock says what the times of runs are counted in.
type Clock string

// The clocks.
const (
	Hours  Clock = "hours"
	Rounds Clock = "rounds"
)

// Fit is the comparison of benches by all runs of a day.
type Fit struct {
	// Benches are in the order of their names.
	Benches []Bench
	// Groups are the benches that can be compared with each other: cars tie them
	// together, also when what all cars did from round to round is taken out. More
	// than one means that the benches cannot be compared, and Missing says what would
	// tie them.
	Groups  [][]string
	Missing []Note
	// Rounds are what cars did from round to round, in the order of their names; none
	// where all runs are of one, or where the benches cannot be compared.
	Rounds []Round
	// Runs is how many runs were fitted, Cars how many cars they are of.
	Runs, Cars int
	// Degrees are the degrees of freedom of the noise: runs less cars less
	// benches plus one, less the rounds beyond the first of those that the same cars
	// tie together. 0 or fewer means that no interval can be given.
	Degrees int
	// Repeatability is the standard deviation of the noise of one run on one
	// bench; it is relative (0.003 is 0.3 %), as are the next two. NaN where
	// Degrees is 0.
	Repeatability float64
	// Between is the standard deviation of the benches' own levels beyond what
	// noise explains, Reproducibility that of runs of one car on different benches.
	Between, Reproducibility float64
	// FBenches is the mean square of the benches, cars allowed for, over that of
	// the noise, and PBenches how often equal benches give one as large.
	FBenches, PBenches float64
	// Suspects are single runs that do not fit in, the most striking first.
	Suspects []Suspect

	graph     *bipartite
	carLevel  []float64     // ln, by car
	level     float64       // mean of ln of all runs
	spread    *mat.SymDense // covariance of the levels of benches and rounds over the variance of noise
	residuals []float64
	leverage  []float64
}

// Bench is what a fit says of one bench.
type Bench struct {
	Name string
	Runs int
	// Factor is what the bench reads over the geometric mean of all benches; a
	// result divided by it is comparable. Low and High bound it with 95 %
	// confidence. NaN where the benches are not tied together, or, for the
	// bounds, where nothing is left to judge the noise by.
	Factor, Low, High float64
	// U is the standard uncertainty of ln(Factor), which is that of the factor
	// relative to it.
	U float64
	// H and K are Mandel's statistics of the bench levels and of the residuals;
	// NaN where they do not apply.
	H, K float64
	// Verdict is the fit's judgement; empty where there is too little to judge by.
	Verdict Verdict
	// Says is the verdict in plain words.
	Says []Note
	// Drift is the trend of the residuals in parts per hour or round; nil where
	// its runs were all at the same time. Its interval allows for looking at
	// several benches.
	Drift *Trend
}

// confidence is what all intervals of a fit cover.
const confidence = 0.95

// MostBenches is how many benches are compared at once; more than any hall has.
const MostBenches = 200

// negligible is a relative standard deviation that only rounding gives.
const negligible = 1e-12

// Round is what a fit says of one round.
type Round struct {
	Name string
	Runs int
	// Level is what cars did in it over the mean of the rounds that the same cars
	// ran in: 0.985 is 1.5 % less.
	Level float64
}

// FitBenches fits ln(value) = car + bench + round + noise by least squares. Cars may
// have run any number of times on any benches, in any rounds; bench levels sum to zero.
// The cars are eliminated first (as in the intrablock analysis of an incomplete block
// design), then the rounds, which leaves one equation a bench: it takes time with the
// number of runs times the square of the benches and rounds that a car ran in, and with
// the cube of benches and rounds.
//
// Where a bench and its rounds go together, wholly or in part, no arithmetic can tell
// them apart: the fit then has no factors and says so, as it does where no cars tie
// the benches together.
// The answer does not depend on the order of runs beyond the last digits.
func FitBenches(runs []Run, clock Clock) (*Fit, error) {
	if len(runs) == 0 {
		return nil, refusal.New("study-short")
	}
	logs := make([]float64, len(runs))
	for i, r := range runs {
		if !(r.Value > 0) || math.IsInf(r.Value, 0) {
			return nil, refusal.New("study-value", "bench", r.Bench)
		}
		if math.IsNaN(r.At) || math.IsInf(r.At, 0) {
			return nil, refusal.New("study-value", "bench", r.Bench)
		}
		logs[i] = math.Log(r.Value)
	}
	g := newBipartite(runs)
	p, c := len(g.benches), len(g.cars)
	if p > MostBenches {
		return nil, refusal.New("study-benches", "benches", p, "most", MostBenches)
	}
	// The levels of the benches sum to zero, so one of them is not free: plus one.
	f := &Fit{
		Runs: len(runs), Cars: c, graph: g, Groups: g.groups(), Benches: make([]Bench, p),
		Degrees: len(runs) - c - p + 1, Repeatability: math.NaN(), Between: math.NaN(),
		Reproducibility: math.NaN(), FBenches: math.NaN(), PBenches: math.NaN(),
	}
	for b, name := range g.benches {
		f.Benches[b] = Bench{
			Name: name, Runs: int(g.in[b]), Factor: math.NaN(), Low: math.NaN(), High: math.NaN(),
			U: math.NaN(), H: math.NaN(), K: math.NaN(),
		}
	}
	if len(f.Groups) > 1 {
		f.sayMissing("bench-untied", "benches-untied")
		return f, nil
	}
	if !f.solve(logs) {
		f.sayMissing("bench-in-round", "benches-in-rounds")
		return f, nil
	}
	f.judge(runs, clock)
	return f, nil
}

// solve finds the levels of benches, rounds and cars, what they are sure to, and the
// residuals. It says whether benches can be told from rounds; where not, it sets the
// groups of benches that can be compared and leaves the rest.
func (f *Fit) solve(logs []float64) bool {
	g := f.graph
	p, n, c := len(g.benches), len(g.in), len(g.cars)
	mean := meanOf(logs)
	f.level = mean.value()
	// Of all values the common mean is taken first: what is left is small, and keeps its digits.
	by, byCar := make([]sum, n), make([]sum, c)
	for i, v := range logs {
		by[g.benchOf[i]].add(mean.from(v))
		if round := g.roundOf[i]; round >= 0 {
			by[round].add(mean.from(v))
		}
		byCar[g.carOf[i]].add(mean.from(v))
	}
	right := make([]float64, n)
	for k := range right {
		right[k] = by[k].value()
	}
	// The equations of the cars are solved for the cars and put into those of the columns, which
	// takes from each column what its cars did on average.
	for i := range c {
		for _, m := range g.met[i] {
			right[m.column] -= m.runs * byCar[i].value() / g.ofCar[i]
		}
	}
	e := g.equations()
	// Asked before solving, because the equations have no single answer then.
	if groups := e.comparable(g.benches); len(groups) > 1 {
		f.Groups = groups
		return false
	}
	levels, left := e.solve(right)
	f.spread = e.spread()
	g.centreRounds(levels)

	// Back from the columns to the cars: what a car did, less the levels of where it did it.
	f.carLevel = make([]float64, c)
	for i := range c {
		own := byCar[i].value()
		for _, m := range g.met[i] {
			own -= m.runs * levels[m.column]
		}
		f.carLevel[i] = own / g.ofCar[i]
	}
	squares := f.setResiduals(logs, mean, levels)
	// What the benches explain beyond cars and rounds: their levels times the right side
	// of their equations, from which those are taken out.
	var explained sum
	for b := range p {
		explained.add(levels[b] * left[b])
	}
	for k, name := range g.rounds {
		f.Rounds = append(f.Rounds, Round{Name: name, Runs: int(g.in[p+k]), Level: math.Exp(levels[p+k])})
	}
	// Before figures, which divides by the degrees of freedom.
	f.Degrees -= e.roundsTold()
	f.figures(mat.NewVecDense(p, levels[:p]), squares, explained.value())
	return true
}

// setResiduals fills in what is left of each run, and its leverage, and returns the sum of
// the squares of what is left.
func (f *Fit) setResiduals(logs []float64, mean precise, levels []float64) float64 {
	g := f.graph
	f.residuals, f.leverage = make([]float64, len(logs)), make([]float64, len(logs))
	var squares sum
	for i, v := range logs {
		f.residuals[i] = mean.from(v) - f.carLevel[g.carOf[i]] - levels[g.benchOf[i]]
		if round := g.roundOf[i]; round >= 0 {
			f.residuals[i] -= levels[round]
		}
		f.leverage[i] = f.leverageOf(i)
		squares.add(f.residuals[i] * f.residuals[i])
	}
	return squares.value()
}

// leverageOf is the variance of the fitted value of a run over that of noise: the
// car's own mean, and the way of its bench and round from those it ran in.
func (f *Fit) leverageOf(run int) float64 {
	g := f.graph
	car := g.carOf[run]
	way := append(g.way(car, -1), met{g.benchOf[run], 1})
	if round := g.roundOf[run]; round >= 0 {
		way = append(way, met{round, 1})
	}
	return 1/g.ofCar[car] + f.varianceOf(way)
}

// way is the mean of the levels of the benches and rounds that a car ran in, with a
// sign, as weights of these.
func (g *bipartite) way(car int, sign float64) []met {
	out := make([]met, 0, len(g.met[car])+2)
	for _, m := range g.met[car] {
		out = append(out, met{m.column, sign * m.runs / g.ofCar[car]})
	}
	return out
}

// varianceOf is the variance of a weighted sum of levels of benches and rounds over
// that of noise. A bench may stand in it twice.
func (f *Fit) varianceOf(way []met) float64 {
	variance := 0.0
	for _, a := range way {
		for _, b := range way {
			variance += a.runs * b.runs * f.spread.At(a.column, b.column)
		}
	}
	return variance
}

// figures fills in the factors, their intervals and the variance components.
func (f *Fit) figures(levels *mat.VecDense, squares, explained float64) {
	p := len(f.Benches)
	for b := range f.Benches {
		f.Benches[b].Factor = math.Exp(levels.AtVec(b))
	}
	if f.Degrees <= 0 {
		return
	}
	noise2 := squares / float64(f.Degrees)
	if noise2 < negligible*negligible {
		noise2 = 0
	}
	f.Repeatability = math.Sqrt(noise2)
	t := f.quantile(1 - (1-confidence)/2)
	for b := range f.Benches {
		u := f.Repeatability * math.Sqrt(math.Max(0, f.spread.At(b, b)))
		bench := &f.Benches[b]
		bench.U = u
		bench.Low, bench.High = bench.Factor*math.Exp(-t*u), bench.Factor*math.Exp(t*u)
	}
	if p < 2 {
		return
	}
	// What the levels scatter beyond what their own uncertainty makes them.
	scatter := mat.Dot(levels, levels) / float64(p-1)
	between2 := math.Max(0, scatter-noise2*mat.Trace(f.spread.SliceSym(0, p))/float64(p-1))
	f.Between, f.Reproducibility = math.Sqrt(between2), math.Sqrt(between2+noise2)
	if noise2 > 0 {
		f.FBenches = explained / float64(p-1) / noise2
		f.PBenches = distuv.F{D1: float64(p - 1), D2: float64(f.Degrees)}.Survival(f.FBenches)
	}
}

// quantile is that of Student's t with the degrees of freedom of the noise.
func (f *Fit) quantile(probability float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: float64(f.Degrees)}.Quantile(probability)
}

// Connected says whether all benches can be compared with each other.
func (f *Fit) Connected() bool { return len(f.Groups) == 1 }
