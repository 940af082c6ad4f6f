package measure

import "math"

// harmonic returns 2 or 3 where a roller that goes on steadily has become that many
// times slower than a speed, within a few hundredths: no brake leaves just that, so
// every second pass, or two of three, are lost from now on. Else it returns 1.
func harmonic(speed float64, to pace) int {
	const close, steady = 0.05, 0.004 // of the speed, and of it in a step
	if math.Abs(to.accel) > steady*to.speed*to.speed {
		return 1
	}
	for k := 2; k <= 3; k++ {
		if math.Abs(speed/(float64(k)*to.speed)-1) < close {
			return k
		}
	}
	return 1
}

// multiply makes every gap of the path hold k times as many passes, and says whether
// it did.
func (s *search) multiply(k int) bool {
	if k == 1 {
		return false
	}
	for _, n := range s.path[1 : s.length+1] {
		if n.passes*k > bridgeMost {
			return false
		}
	}
	for i := 1; i <= s.length; i++ {
		s.path[i].passes *= k
	}
	return true
}

// thin leaves every second stamp of the path out where the roller seems to have
// become twice as quick all at once: those that fit worse to the way over the gap. It
// says whether it did.
func (s *search) thin(k int, t *Tracker, to pace) bool {
	if k != 2 || s.length < 3 || !t.marks.even {
		return false
	}
	to.speed /= 2
	// How far a stamp is from a whole number of passes, by the mean of the speeds before and beyond.
	off := func(at int64) float64 {
		to.at = at
		way := float64(at-t.from.at)*(t.from.speed+to.speed)/2 + t.from.phase
		return math.Abs(way - math.Round(way))
	}
	// Of the two rows of every second pass, the one whose beginning fits better stays.
	total, from := 0, 0
	if off(t.waiting[s.path[1].stamp]) < off(t.waiting[s.path[0].stamp]) {
		from = 1
	}
	var path [seekSize]node
	n := 0
	for i, last := from, 0; i <= s.length; i++ {
		if i > from {
			total += s.path[i].passes
		}
		// It is passes that count, not stamps: a gap of the path may hold several.
		if total%2 != 0 {
			continue
		}
		path[n] = s.path[i]
		if n > 0 {
			path[n].passes = (total - last) / 2
		}
		last = total
		n++
	}
	if n < 2 {
		return false
	}
	s.path, s.length = path, n-1
	// As many stamps stood between two passes, as it seems; doubtRun asks how many did in a row.
	t.middleRun += int64(n)
	t.middleMost = max(t.middleMost, t.middleRun)
	return true
}
