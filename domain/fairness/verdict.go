package fairness

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"
)

// Verdict is what a comparison says of a bench, in the words of the screens.
type Verdict string

// The verdicts.
const (
	Agrees    Verdict = "agrees"
	ReadsHigh Verdict = "reads high"
	ReadsLow  Verdict = "reads low"
	Noisy     Verdict = "noisy"
)

// falseAlarm is how often one bench or more of equal ones is blamed; it is
// shared out among the benches, as Cochran's and Grubbs' tests do (Bonferroni).
const falseAlarm = 0.05

// driftRuns is how many runs of a bench its trend is read from.
const driftRuns = 1000

// Suspect is a run that does not fit in.
type Suspect struct {
	// Run is its place in the list that was fitted.
	Run int
	// Off is how far its value is from what its car gives on its bench, relative.
	Off float64
	// T is Off over its standard uncertainty, where the run itself is left out of
	// judging the noise.
	T float64
}

// judge gives every bench its statistics, its verdict and its sentences.
//
// A bench is high or low against the middle one, not against the mean: one bench
// that is far off moves the mean, and the others are not to blame. It is noisy
// where its residuals scatter more than those of all other benches together.
func (f *Fit) judge(runs []Run, clock Clock) {
	p := len(f.Benches)
	levels := make([]float64, p)
	for b := range f.Benches {
		levels[b] = math.Log(f.Benches[b].Factor)
	}
	if s := Summarise(levels); p > 1 && s.SD > negligible {
		for b := range f.Benches {
			f.Benches[b].H = (levels[b] - s.Mean) / s.SD
		}
	}
	// For all benches at once, because each is held against all others.
	noisy := f.noise()
	for b := range f.Benches {
		bench := &f.Benches[b]
		bench.Drift = f.drift(runs, b)
		switch {
		case p == 1:
			bench.Says = []Note{note("bench-alone", "bench", bench.Name)}
			continue
		case f.Degrees <= 0:
			bench.Says = []Note{note("bench-few", "bench", bench.Name)}
			continue
		}
		// Either side may be blamed, and any of p benches: so 2p shares of the false alarms. The
		// floor keeps equal benches without noise from being told apart by rounding.
		off, u := f.offMiddle(levels, b)
		significant := math.Abs(off) > math.Max(1e-9, f.quantile(1-falseAlarm/float64(2*p))*u)
		bench.Verdict = Agrees
		level := note("bench-agrees", "bench", bench.Name)
		switch {
		case significant && off > 0:
			bench.Verdict = ReadsHigh
			level = note("bench-high", "bench", bench.Name, "percent", percent(math.Expm1(off)))
		case significant:
			bench.Verdict = ReadsLow
			level = note("bench-low", "bench", bench.Name, "percent", percent(math.Expm1(off)))
		}
		if noisy[b] > 0 {
			bench.Says = append(bench.Says, note("bench-noisy", "bench", bench.Name, "times", fmt.Sprintf("%.1f", noisy[b])))
		}
		// Of a noisy bench it is not said that it agrees, only that it is off, if it is.
		if noisy[b] == 0 || significant {
			bench.Says = append(bench.Says, level)
		}
		if noisy[b] > 0 {
			bench.Verdict = Noisy
		}
		if d := bench.Drift; d != nil && d.Significant() {
			bench.Says = append(bench.Says, note(driftCode(d.Slope, clock), "percent", percent(d.Slope)))
		}
	}
	f.suspect()
}

// offMiddle returns how far a bench level is from the middle one, and the
// standard uncertainty of that difference.
func (f *Fit) offMiddle(levels []float64, bench int) (off, u float64) {
	p := len(levels)
	order := make([]int, p)
	for b := range order {
		order[b] = b
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(levels[a], levels[b]) })
	weights := make([]float64, p)
	weights[bench] = 1
	weights[order[(p-1)/2]] -= 0.5
	weights[order[p/2]] -= 0.5
	variance := 0.0
	for a, wa := range weights {
		off += wa * levels[a]
		for b, wb := range weights {
			variance += wa * wb * f.spread.At(a, b)
		}
	}
	return off, f.Repeatability * math.Sqrt(math.Max(0, variance))
}

// noise fills in Mandel's k and returns for every bench that is noisy how many
// times as much its residuals scatter as those of the others, else 0. What the
// fit takes out of the residuals of a bench is allowed for by their leverages.
func (f *Fit) noise() []float64 {
	p := len(f.Benches)
	times := make([]float64, p)
	squares, degrees := make([]float64, p), make([]float64, p)
	allSquares, allDegrees := 0.0, 0.0
	for i, r := range f.residuals {
		b := f.graph.benchOf[i]
		squares[b] += r * r
		// The expected square of a residual is that of the noise times one less its leverage.
		degrees[b] += 1 - f.leverage[i]
		allSquares += r * r
		allDegrees += 1 - f.leverage[i]
	}
	if !(f.Repeatability > 0) {
		return times
	}
	var variances sum
	spreads := 0
	for b := range p {
		if degrees[b] >= 0.5 {
			variances.add(squares[b] / degrees[b])
			spreads++
		}
	}
	for b := range p {
		rest := allDegrees - degrees[b]
		// Hardly a residual that the fit did not make small itself: nothing can be said of it.
		if degrees[b] < 0.5 {
			continue
		}
		own2 := squares[b] / degrees[b]
		f.Benches[b].K = math.Sqrt(own2 * float64(spreads) / variances.value())
		// Mandel's k holds a bench against the mean variance of all, itself among them; the test
		// below holds it against the others alone.
		if degrees[b] < 1 || rest < 1 {
			continue
		}
		others2 := (allSquares - squares[b]) / rest
		ratio := own2 / math.Max(others2, negligible*negligible)
		if (distuv.F{D1: degrees[b], D2: rest}).Survival(ratio) < falseAlarm/float64(p) {
			times[b] = math.Sqrt(ratio)
		}
	}
	return times
}

// suspect lists the runs whose residuals are too large for their noise
// (externally studentised, the false alarms shared out among the runs).
func (f *Fit) suspect() {
	if f.Degrees < 2 || !(f.Repeatability > 0) {
		return
	}
	total := float64(f.Degrees) * f.Repeatability * f.Repeatability
	student := distuv.StudentsT{Sigma: 1, Nu: float64(f.Degrees - 1)}
	limit := student.Quantile(1 - falseAlarm/float64(2*f.Runs))
	for i, r := range f.residuals {
		free := 1 - f.leverage[i]
		if free < 1e-9 {
			continue // its car or bench is fitted by it alone
		}
		without := (total - r*r/free) / float64(f.Degrees-1)
		t := r / math.Sqrt(math.Max(without, negligible*negligible)*free)
		if math.Abs(t) > limit {
			f.Suspects = append(f.Suspects, Suspect{Run: i, Off: math.Expm1(r / free), T: t})
		}
	}
	slices.SortStableFunc(f.Suspects, func(a, b Suspect) int { return cmp.Compare(math.Abs(b.T), math.Abs(a.T)) })
}

// drift is the trend of a bench's residuals over the hours; nil where there is
// none to be had. What all benches and cars do together cannot be told from the
// benches, as the cars wear and their batteries fade. Of very many runs, evenly
// many are looked at, as all pairs of them are.
func (f *Fit) drift(runs []Run, bench int) *Trend {
	if !(f.Repeatability > 0) {
		return nil
	}
	var when, off []float64
	for i, r := range runs {
		if f.graph.benchOf[i] == bench {
			when, off = append(when, r.At), append(off, f.residuals[i])
		}
	}
	if n := len(when); n > driftRuns {
		for i := range driftRuns {
			when[i], off[i] = when[i*n/driftRuns], off[i*n/driftRuns]
		}
		when, off = when[:driftRuns], off[:driftRuns]
	}
	t, err := theilSen(when, off, 1-falseAlarm/float64(len(f.Benches)))
	if err != nil {
		return nil
	}
	return &t
}

func driftCode(slope float64, clock Clock) NoteCode {
	switch {
	case clock == Rounds && slope > 0:
		return "bench-up-round"
	case clock == Rounds:
		return "bench-down-round"
	case slope > 0:
		return "bench-up-hour"
	}
	return "bench-down-hour"
}

// sayMissing says for unconnected benches what would tie them.
func (f *Fit) sayMissing(bench, benches NoteCode) {
	for b := range f.Benches {
		f.Benches[b].Says = []Note{note(bench, "bench", f.Benches[b].Name)}
	}
	for _, other := range f.Groups[1:] {
		f.Missing = append(f.Missing, note(benches,
			"one", strings.Join(f.Groups[0], ", "), "other", strings.Join(other, ", ")))
	}
}
