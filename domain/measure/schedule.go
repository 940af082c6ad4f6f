package measure

import "math"

const (
	// scheduleSteps is for how many passes a roller is remembered as it went before the
	// first stamp that was off.
	scheduleSteps = 6
	// schedulePasses is how many passes it is taken from.
	schedulePasses = 8
	// heldUpUS is how long an interrupt may hold a stamp up (common practice: to 1 ms, as a
	// rule). What is off by more is something else.
	heldUpUS = 3000
	// heldUpPart is the part of a gap above which a late stamp is no jitter.
	heldUpPart = 0.04
	// quickSteps is for how many passes after the search the rise may be steep.
	quickSteps = 3 * blockSteps
)

// schedule is how the roller went before the stamps became irregular. A stamp that
// comes when the schedule has its pass shows that those between were held up, each by
// a time of its own, and that the roller never changed its speed.
type schedule struct {
	step    int64   // the last pass that was counted then
	at      float64 // when that was due, by itself and those before it
	gap     float64 // the next one, µs a step
	trend   float64 // the change of the gap from pass to pass
	gains   gains
	pending bool
}

// keepSchedule notes how the roller goes, at the first stamp that is off by a few µs.
func (t *Tracker) keepSchedule(off float64) {
	if math.Abs(off) > heldUpUS || t.schedule.pending && t.steps-t.schedule.step < scheduleSteps {
		return
	}
	var ok bool
	if t.schedule, ok = t.recent(); !ok {
		// Too few passes, or a rise too steep: the prediction has to do.
		t.schedule = schedule{step: t.steps, at: float64(t.last), gap: t.pred, trend: t.trend, gains: t.gains}
	}
	t.schedule.pending = true
}

// recent returns how the roller goes by its last passes. One or two of their stamps
// may have been held up so little that nobody noticed, so time and gap are medians
// (Theil, A rank-invariant method of linear and polynomial regression analysis, 1950).
// It is false where too few passes are there or the rise may be too steep for that.
func (t *Tracker) recent() (schedule, bool) {
	s := schedule{step: t.steps, trend: t.trend, gains: t.gains}
	if t.steps-t.window.begun < schedulePasses {
		return s, false
	}
	if t.quickBlocks > 0 {
		if t.steps-t.foundStep < quickSteps {
			return s, false
		}
		s.trend, s.gains = 0, calmGains // a trend that follows quickly is much noise
	}
	var times, steps [schedulePasses]float64 // from the last pass on backwards
	for k := range times {
		before := t.steps - int64(k)
		times[k] = float64(t.window.times[before&ringMask]-t.last) - s.trend*float64(k*(k+1)/2)
		steps[k] = -t.marks.spanned(t.markAt(before), k)
	}
	var gaps [schedulePasses * (schedulePasses - 1) / 2]float64
	n := 0
	for i := range times {
		for j := range i {
			gaps[n] = (times[i] - times[j]) / (steps[i] - steps[j])
			n++
		}
	}
	s.gap = median(gaps[:])
	for k := range times {
		times[k] -= s.gap * steps[k]
	}
	s.at = float64(t.last) + median(times[:])
	return s, true
}

// heldUpLast returns by how many µs the stamp of the last pass was held up, and the
// gap that was due after it, µs. It is 0 and false where that cannot be told from
// the passes before.
func (t *Tracker) heldUpLast() (late, gap float64, ok bool) {
	s, ok := t.recent()
	if !ok {
		return 0, 0, false
	}
	gap = s.gap * t.marks.scale[t.mark()]
	if late = float64(t.last) - s.at; late < heldUpPart*gap || late > heldUpUS {
		late = 0
	}
	return late, gap, true
}

// dueOff is by how much a time differs from when the schedule has the pass that is
// n after the last one, in µs, and whether that is little enough to be it.
func (t *Tracker) dueOff(at, n int64) (off float64, ok bool) {
	s := &t.schedule
	if n += t.steps - s.step; !s.pending || n > scheduleSteps {
		return 0, false
	}
	due := s.gap*t.marks.spanned(t.markAt(s.step), int(n)) + s.trend*float64(n*(n-1)/2)
	off = float64(at) - s.at - due
	return off, math.Abs(off) <= near*s.gap
}

// onSchedule reports whether the next pass, at a time, came when it was due by how
// the roller went before. If so it is counted, and the prediction is again what it was.
func (t *Tracker) onSchedule(at int64) bool {
	off, ok := t.dueOff(at, 1)
	if !ok {
		return false
	}
	s := &t.schedule
	n := t.steps + 1 - s.step
	s.pending = false
	t.advance(at, 1)
	t.gains = s.gains
	t.predict(s.gap+s.trend*float64(n-1)+off/float64(n+schedulePasses), s.trend)
	return true
}

// bothOnSchedule reports whether a stamp shows that the one that was held is a pass
// as well: it comes when the pass after the next one was due. Both are counted then.
func (t *Tracker) bothOnSchedule(at int64) bool {
	if _, ok := t.dueOff(at, 2); !ok {
		return false
	}
	t.advance(t.release(), 1)
	return t.onSchedule(at)
}
