package fairness

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Judgement is what the one-way analysis says of a bench.
type Judgement struct {
	Verdict Verdict
	Says    []Note
}

// Judge gives every bench a verdict in the order of Cells: noisy where its k is
// an outlier, high or low where its h is one; a straggler is named and still
// agrees. Of two benches, for which h says nothing, the analysis of variance
// decides at the 5 % point. It only means something where all benches read the
// same thing, or cars were shared out evenly.
func (l Level) Judge() []Judgement {
	out := make([]Judgement, len(l.Cells))
	parted := len(l.Cells) == 2 &&
		(distuv.F{D1: 1, D2: float64(l.DegreesWithin)}).Survival(l.F) < falseAlarm
	for i, row := range l.Mandel() {
		c, j := l.Cells[i], &out[i]
		j.Verdict = Agrees
		off := (c.Mean - l.MeanOfMeans) / math.Abs(l.MeanOfMeans)
		side, code := ReadsHigh, NoteCode("bench-mean-high")
		if off < 0 {
			side, code = ReadsLow, "bench-mean-low"
		}
		where := note(code, "bench", c.Name, "percent", percent(off))
		if row.WordK == Outlier {
			j.Verdict = Noisy
			j.Says = append(j.Says, note("bench-spread", "bench", c.Name))
		}
		switch {
		case row.WordH == Outlier || parted:
			// A noisy bench stays noisy: where it is off as well, that is only said.
			if j.Verdict == Agrees {
				j.Verdict = side
			}
			j.Says = append(j.Says, where)
		case row.WordH == Straggler:
			j.Says = append(j.Says, where, note("bench-straggler"))
		case j.Verdict == Agrees:
			j.Says = append(j.Says, note("bench-agrees", "bench", c.Name))
		}
	}
	return out
}
