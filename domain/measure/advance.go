package measure

import "math"

// bridge goes on by n passes, of which the last is a stamp and the others were
// missed.
func (t *Tracker) bridge(at int64, n int) {
	if n > 1 {
		if t.steps == t.halfStep {
			t.halfRun++
		} else {
			t.halfRun = 1
		}
		t.halfMost = max(t.halfMost, t.halfRun)
		for i := 1; i < n; i++ {
			missed := t.between(at, i, n)
			if t.counts(missed) {
				t.notes.noteBridged(missed)
			}
		}
	}
	t.advance(at, n)
	if n > 1 {
		t.halfStep = t.steps
	}
}

const (
	// chatterUS after a pass, and that part of a gap, an extra stamp is the chatter of
	// the mark's edge or its far edge; later it is a stray one (common practice).
	chatterUS   = 400
	chatterPart = 0.1
	// dubiousStrays are so many that a roller which hardly turns, or stands, may well
	// have been fed with them.
	dubiousStrays = 5
	// strayRuns stray stamps, no more than strayApart steps from one to the next, are a
	// burst of pulses, as a receiver makes of a remote control.
	strayRuns  = 4
	strayApart = 2
	// earlySteps are the first passes of a run, among which a stray stamp may have
	// been taken for one.
	earlySteps = 4
)

// leaveStray drops an extra stamp that is no chatter of a mark's edge.
func (t *Tracker) leaveStray(at int64) {
	t.leaveOut(at)
	if !t.counts(at) || t.crowd > 2 || t.crossing {
		return // of a burst, which is no stray light
	}
	t.strays++
	if t.steps > t.strayStep+strayApart {
		t.strayRun = 0
	}
	t.strayStep = t.steps
	if t.strayRun++; t.strayRun == strayRuns {
		t.bursts++ // in every gap or two a stamp: the passes may be some of them
		t.strayBursts++
	}
	if !t.opened || t.steps-t.openStep < earlySteps {
		t.earlyStrays++
	}
}

// leaveOut drops an extra stamp.
func (t *Tracker) leaveOut(at int64) {
	if t.counts(at) {
		t.notes.noteExtra(at)
	}
	t.lastExtra = at
	if t.crowdStep != t.steps {
		t.crowd, t.crowdStep = 0, t.steps
	}
	t.crowd++
	if t.steps == t.doubleStep+1 {
		t.doubleRun++
		t.doubleMost = max(t.doubleMost, t.doubleRun)
	} else if t.steps != t.doubleStep {
		t.doubleRun = 1
	}
	t.doubleStep = t.steps
}

// advance goes on by n steps to a genuine stamp.
func (t *Tracker) advance(at int64, n int) {
	t.advanceShown(at, n, at)
}

// advanceShown is advance, with another time for the window of the top speed.
func (t *Tracker) advanceShown(at int64, n int, shown int64) {
	waited := !t.opened
	if t.pass(at, n); t.closed {
		return
	}
	var missed [bridgeMost]int64
	for i := 1; i < n; i++ {
		missed[i] = t.between(at, i, n)
	}
	for i := 1; i < n; i++ {
		t.steps++
		t.window.push(t.steps, missed[i])
	}
	t.steps++
	t.last = at
	if t.strays >= dubiousStrays && t.opened && t.pred > crawling*t.window.shortest() {
		t.dubious += int64(n)
	}
	if at == t.lesson.first {
		t.lesson.met = t.mark()
	}
	t.window.push(t.steps, shown)
	t.edge = t.nextEdge()
	if waited && t.opened {
		t.window.forget() // what the roller did before the start is no top speed
		t.window.restart(t.steps, at)
	}
}

// between returns the time of the pass that lies i of n steps after the last
// stamp, if the n-th is at a time.
func (t *Tracker) between(at int64, i, n int) int64 {
	if t.marks.even {
		return t.last + (at-t.last)*int64(i)/int64(n)
	}
	mark := t.mark()
	return t.last + int64(float64(at-t.last)*t.marks.spanned(mark, i)/t.marks.spanned(mark, n))
}

// follow updates the prediction by a gap and its surprise.
func (t *Tracker) follow(gap, surprise float64) {
	if math.Abs(surprise) <= near*t.pred {
		t.noise += surprise * surprise
	}
	trend := t.trend + t.gains.trend*surprise
	t.predict(t.pred+(t.gains.gap-t.gains.trend)*surprise, trend)
}

// advanceOdd goes on by one step to a genuine stamp whose gap is off. A first one
// changes the prediction only a little, as the next is likely off the other way,
// and the window of the top speed sees it where it was due; a second one on the
// same side is believed, unless no roller brakes like that.
func (t *Tracker) advanceOdd(at int64, gap float64) {
	long := gap > t.pred
	again := t.oddStep == t.steps && t.steps > 0 && t.oddLate == long
	level := t.level()
	possible := gap > 0.85*level && gap < 1.4*level || t.pred > slowRoller*t.window.shortest()
	due := float64(t.last) + t.pred*t.marks.scale[t.mark()]
	if again && possible {
		t.advance(at, 1)
		t.quicken()
		t.predict(gap, max(-0.2*gap, min(0.3*gap, (gap-level)/2)))
		due = float64(at)
	} else {
		t.advanceShown(at, 1, min(int64(due), at+int64(0.3*t.pred)))
		t.follow(gap, max(-0.06*t.pred, min(0.06*t.pred, gap-t.pred)))
	}
	t.oddStep, t.oddLate, t.oddDue = t.steps, long, due
}

// quicken makes the prediction follow quickly for two blocks.
func (t *Tracker) quicken() {
	t.gains, t.quickBlocks = quickGains, 2
}

// level is the smoothed gap, without the trend.
func (t *Tracker) level() float64 {
	return t.pred - t.trend
}

// predict makes the next prediction from a level and a trend, and keeps it
// positive whatever the stamps are.
func (t *Tracker) predict(level, trend float64) {
	level = max(level, 1)
	t.pred = max(level+trend, level/3)
	t.trend = t.pred - level
	t.allowFast()
}

// allowFast lets regular stamps go past judge unless something forbids it: the first
// passes of a run, too, for the rise has to see each of them.
func (t *Tracker) allowFast() {
	t.slow = t.seeking || t.clock.farther || t.lesson.on || t.holding || t.closed || t.rebase ||
		t.opened && t.startHow == partNotComputed
}

// mark returns the mark of the last genuine stamp.
func (t *Tracker) mark() int64 {
	return t.markAt(t.steps)
}

// markAt returns the mark of a step.
func (t *Tracker) markAt(step int64) int64 {
	return (t.firstMark + step) % int64(t.marks.count)
}
