package fairness

import "math"

// The notes of a run that is far off.
const (
	Unheard  NoteCode = "run-impossible"
	FarAbove NoteCode = "run-far-above"
	FarBelow NoteCode = "run-far-below"
)

// FastestMPS is above what any palm-sized battery car drives, in m/s: 108 km/h. Tuned
// ones reach about two thirds of it on rollers (common practice).
const FastestMPS = 30

// The bounds of what is usual, as ratios to the middle of the runs: beyond the second of
// each pair a run is looked at however much the runs scatter, within the first never.
const (
	twiceUsual, fourTimesUsual  = 2, 4
	fifthOfUsual, eighthOfUsual = 5, 8
)

// Usual is what the runs of a field show: mean speeds between Low and High, in m/s, are
// such as its cars run.
type Usual struct {
	Low, High float64
	// Middle is the median; 0 where there are too few runs to know one.
	Middle float64
}

// UsualOf finds what is usual from the mean speeds of a field, in m/s. It takes logarithms,
// since cars differ by ratios, and is six median deviations wide ([MAD]) on each side,
// so that up to half of the runs may be wrong; but at least from a fifth to the double of the
// median, for cars of children do differ, and at most from an eighth to four times. With
// fewer than three runs it is only bounded by [FastestMPS], as always.
func UsualOf(mps []float64) Usual {
	var logs []float64
	for _, v := range mps {
		if v > 0 {
			logs = append(logs, math.Log(v))
		}
	}
	if len(logs) < 3 {
		return Usual{High: FastestMPS}
	}
	middle, width := Median(logs), 6*MAD(logs)
	above := min(max(width, math.Log(twiceUsual)), math.Log(fourTimesUsual))
	below := min(max(width, math.Log(fifthOfUsual)), math.Log(eighthOfUsual))
	return Usual{math.Exp(middle - below), min(math.Exp(middle+above), FastestMPS), math.Exp(middle)}
}

// FarOff says why a mean speed in m/s is none that a car of the field has driven, and
// whether it is; one of 0 is that of a car that did not move.
func (u Usual) FarOff(mps float64) (Note, bool) {
	switch {
	case mps > FastestMPS:
		return note(Unheard, "kmh", math.Round(3.6*mps), "most", math.Round(3.6*FastestMPS)), true
	case mps > u.High:
		return note(FarAbove, "times", times(mps/u.Middle)), true
	case mps > 0 && mps < u.Low:
		return note(FarBelow, "times", times(u.Middle/mps)), true
	}
	return Note{}, false
}

// times is a ratio to one decimal.
func times(ratio float64) float64 { return math.Round(10*ratio) / 10 }
