package signal

import (
	"math"
	"slices"
)

// relative are the steps over the mean step of the two turns around them, of so many marks;
// 0 where a stamp is missing or too many, or where the speed changes quickly: there a step
// is far from that of the turn before.
func (r raw) relative(marks int) []float64 {
	s := r.steps
	out := make([]float64, len(s))
	for i := 2 * marks; i+marks < len(s); i++ {
		sum := 0.0
		whole := true
		for k := i - marks; k <= i+marks; k++ {
			weight := 1.0
			if k == i-marks || k == i+marks {
				weight = 0.5 // so that the window is whole turns
			}
			sum += weight * s[k]
			whole = whole && s[k] < 1.3*s[k-marks] && s[k] > s[k-marks]/1.3
		}
		if whole {
			out[i] = s[i] / (sum / float64(2*marks))
		}
	}
	return out
}

// mostMarks that are looked for where their number is not stated.
const mostMarks = 6

// places are the steps of a turn as parts of the mean one, where a pattern of as many as
// are stated, or of another number of marks, comes again with each turn; one otherwise. A
// stamp too many or too few shifts the pattern, so it is looked for in stretches of a few
// turns, of which most have to show it.
func (r raw) places(stated int) []float64 {
	best, bestPart := []float64{1}, 0.0
	for marks := 2; marks <= max(stated, mostMarks); marks++ {
		rel := r.relative(marks)
		var parts []float64
		var clearest []float64
		most := 0.0
		for from := 0; from+patternTurns*marks <= len(rel); from += patternTurns * marks {
			pattern, part := patternOf(rel[from:from+patternTurns*marks], marks)
			if pattern == nil {
				continue
			}
			parts = append(parts, part)
			if part > most {
				clearest, most = pattern, part
			}
		}
		if len(parts) < 3 {
			continue
		}
		slices.Sort(parts)
		// A multiple of the right number explains no more than it does.
		if part := parts[len(parts)/2]; part > 0.75 && part > bestPart+0.02 {
			best, bestPart = clearest, part
		}
	}
	return best
}

// patternTurns is the length of a stretch.
const patternTurns = 8

// patternOf is the pattern of a stretch, and what part of the differences of its steps it
// explains; none where a step is not whole, or where it is less than a hundredth of a step.
func patternOf(rel []float64, marks int) (pattern []float64, part float64) {
	pattern = make([]float64, marks)
	square := 0.0
	for i, v := range rel {
		if v == 0 {
			return nil, 0
		}
		pattern[i%marks] += v / float64(len(rel)/marks)
		square += (v - 1) * (v - 1)
	}
	explained := 0.0
	for _, p := range pattern {
		explained += (p - 1) * (p - 1)
	}
	if math.Sqrt(explained/float64(marks)) < 0.01 {
		return pattern, 0
	}
	return pattern, explained * float64(len(rel)/marks) / square
}

// scatter is the standard deviation of a stamp as a part of the step, with so many marks:
// from the differences of steps one turn apart, by their median, which bears single faults.
func (r raw) scatter(marks int) float64 {
	s := r.steps
	var d []float64
	for i := 2 * marks; i < len(s); i++ {
		a, b, c := s[i], s[i-marks], s[i-2*marks]
		if a > 1.5*b || b > 1.5*a || c > 1.5*b || b > 1.5*c {
			continue
		}
		d = append(d, math.Abs(a-2*b+c)/b)
	}
	if len(d) == 0 {
		return 1
	}
	slices.Sort(d)
	// With one mark, steps of independent stamps give a third difference of the stamps,
	// of variance 1+9+9+1; the marks of several stand apart, and each of the three steps
	// brings two stamps of its own: 2+8+2. The median is 0.6745 standard deviations.
	variance := 20.0
	if marks > 1 {
		variance = 12
	}
	return d[len(d)/2] / 0.6745 / math.Sqrt(variance)
}
