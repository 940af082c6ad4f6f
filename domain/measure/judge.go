package measure

import "math"

// Costs of an explanation, beside the logarithms by which its gaps differ from
// what was expected. They were set so that every train of the tests is read as
// a person would read it.
const (
	costExtra = 0.30
	costMiss  = 0.50

	// slowRoller and crawling are gaps over the shortest one of the run.
	slowRoller = 1.5
	crawling   = 8

	// ambiguous is where a gap may hold one step or two, and heldUp how late, of a
	// gap, an interrupt may make a stamp.
	ambiguous = 1.75
	heldUp    = 1.40

	// opensMost open gaps in a row mean that the prediction is wrong.
	opensMost = 3
)

// judge takes a stamp that is not plainly regular.
func (t *Tracker) judge(stamp int64) {
	if t.closed {
		return
	}
	if t.rebase {
		t.resume(stamp)
		return
	}
	at, offset, v := t.clock.unwrapAfter(t.last, stamp, t.offset)
	switch v {
	case backwardStamp:
		t.backwards++
		return
	case impossibleStamp:
		t.impossible++
		return
	}
	if t.clock.period > 0 && t.clock.period <= 1<<24 && t.steps > 0 && at-t.last > t.clock.period/2 {
		t.ambiguous++
	}
	t.offset = offset
	if t.steps >= t.stepEdge && !t.seeking {
		t.block()
	}
	t.take(at)
}

// take judges a time that the clock vouches for.
func (t *Tracker) take(at int64) {
	switch {
	case t.closed:
	case t.seeking:
		t.gather(at)
	case t.holding:
		t.resolve(at)
	default:
		t.consider(at)
	}
}

// unwrapAfter is unwrap for a clock that was not told of the regular stamps.
func (c *clock) unwrapAfter(last, stamp, offset int64) (int64, int64, verdict) {
	if c.any {
		c.seen = max(c.seen, last)
	}
	return c.unwrap(stamp, offset)
}

// consider judges a stamp against the prediction alone.
func (t *Tracker) consider(at int64) {
	gap := float64(at-t.last) / t.marks.scale[t.mark()]
	switch r := gap / t.pred; {
	case r < lockOut:
		t.leaveOut(at)
	case r < 1-near:
		t.hold(at)
	case r <= 1+near:
		t.advance(at, 1)
		t.follow(gap, gap-t.pred)
	default:
		t.late(at)
	}
}

// hold keeps an early stamp back until the next one explains it.
func (t *Tracker) hold(at int64) {
	t.held, t.holding, t.heldLate = at, true, false
	t.allowFast()
}

// release ends the holding, whatever became of the stamp.
func (t *Tracker) release() int64 {
	t.holding = false
	t.allowFast()
	return t.held
}

// resolve decides about the held stamp, now that the next one is there: either
// the held one is a stray, so that the two parts add up to one gap (or to a few,
// if passes were missed), or it is genuine and only came early. The cheaper
// explanation wins.
func (t *Tracker) resolve(at int64) {
	if t.pred > slowRoller*t.window.shortest() {
		// A roller this far below its top speed may speed up at any rate, as when
		// a car is put back on: only more stamps can tell.
		held := t.release()
		t.seekFrom(t.last)
		t.gather(held)
		t.take(at)
		return
	}
	if t.heldLate {
		t.resolveLate(at)
		return
	}
	mark := t.mark()
	first := float64(t.held-t.last) / t.marks.scale[mark]
	second := float64(at-t.held) / t.marks.scale[(mark+1)%int64(t.marks.count)]
	whole := float64(at-t.last) / t.marks.scale[mark]
	switch r := whole / t.pred; {
	case math.Abs(r-1) <= near:
		t.leaveOut(t.release())
		t.consider(at)
		t.doubtSearch(at)
		return
	case second < 0.2*t.pred:
		t.leaveOut(at) // chatter after the held stamp
		return
	}
	stray := costExtra + t.misfit(whole, t.pred)
	genuine := math.Abs(math.Log(first/t.pred)) + min(t.misfit(second, t.pred), t.misfit(second, first))
	if stray < genuine {
		t.leaveOut(t.release())
	} else {
		t.advanceOdd(t.release(), first)
	}
	t.consider(at)
}

// resolveLate decides about a held stamp that came late. If the next one makes
// it two gaps in all, the two are counted whatever the held one was: a stray
// beside a missed pass or, if it was not very late, a pass whose stamp was held
// up. Otherwise the gap is left open.
func (t *Tracker) resolveLate(at int64) {
	mark := t.mark()
	first := float64(t.held-t.last) / t.marks.scale[mark]
	whole := float64(at-t.last) / t.marks.spanned(mark, 2)
	switch {
	case float64(at-t.held) < 0.2*t.pred:
		t.leaveOut(at)
	case math.Abs(whole/t.pred-1) > near:
		t.leaveOpen(t.release())
		t.take(at)
	case first < heldUp*t.pred:
		t.advanceShown(t.release(), 1, t.last+int64(t.pred*t.marks.scale[mark]))
		t.advance(at, 1)
		t.follow(whole, whole-t.pred)
	default:
		t.leaveOut(t.release())
		t.bridge(at, 2)
		t.follow(whole, whole-t.pred)
	}
}

// leaveOpen counts one step over a gap that holds no whole number of them.
func (t *Tracker) leaveOpen(at int64) {
	each := float64(at-t.last) / t.marks.scale[t.mark()]
	t.open(at, false)
	if each < ambiguous*t.pred {
		t.advanceOdd(at, each)
	} else {
		t.advance(at, 1)
		t.window.restart(t.steps, at)
	}
	if t.astray(); t.opens >= opensMost && !t.closed {
		t.seekFrom(at)
		return
	}
	t.allowFast()
}

// doubtSearch searches once more if soon after the search every gap had a stamp
// in its middle: then the gap that was found holds two.
func (t *Tracker) doubtSearch(at int64) {
	if t.searchedAgain || t.doubleRun < 4 || t.steps-t.foundStep > 3*seekSize || t.last != at || t.closed {
		return
	}
	t.searchedAgain = true
	t.open(at, false)
	t.seekFrom(at)
}

// misfit is the cost of reading a gap as one, two or more of the expected gap.
func (t *Tracker) misfit(gap, expected float64) float64 {
	cost := math.Abs(math.Log(gap / expected))
	for n := 2; n <= bridgeMost; n++ {
		cost = min(cost, math.Abs(math.Log(gap/(float64(n)*expected)))+float64(n-1)*costMiss)
	}
	return cost
}

// late judges a stamp that comes after more than the predicted gap: the roller
// slows down, passes were missed, or something else is in between.
func (t *Tracker) late(at int64) {
	mark, gap := t.mark(), float64(at-t.last)
	// Fewer than five turns are left to a roller that brakes like this, or it
	// turns so slowly that its next gap may be anything.
	stopping := t.trend > 0.1*t.level() || t.pred > crawling*t.window.shortest()
	for n := 1; n <= bridgeMost && !(stopping && n > 1); n++ {
		expected := max(t.pred+t.trend*float64(n-1)/2, t.pred/2)
		spanned := t.marks.spanned(mark, n)
		if math.Abs(gap/expected-spanned) >= bridgeSlack {
			continue
		}
		each := gap / spanned
		if n == 1 {
			t.advanceOdd(at, each)
			return
		}
		due := float64(t.last) + expected*spanned
		t.bridge(at, n)
		t.follow(each, max(-near*t.pred, min(near*t.pred, each-t.pred)))
		if off := float64(at) - due; math.Abs(off) > near*t.pred {
			t.oddStep, t.oddLate, t.oddDue = t.steps, off > 0, due
		}
		return
	}
	if n, ok := t.lateFromDue(at); ok && !stopping {
		t.bridge(at, n)
		return
	}
	each := gap / t.marks.scale[mark]
	switch {
	case gap > lostAfterUS && each > (bridgeMost+bridgeSlack)*t.pred:
		// The speed is unknown again. The new stamp begins a new search; the
		// step between is counted, as two passes are whole turns apart.
		t.open(at, stopping)
		t.advance(at, 1)
		t.window.restart(t.steps, at)
		t.seekFrom(at)
	case stopping || (each < ambiguous*t.pred && t.oddLate && t.oddStep == t.steps):
		t.advanceOdd(at, each)
	case each < ambiguous*t.pred && t.pred < slowRoller*t.window.shortest():
		t.hold(at)
		t.heldLate = true
	default:
		t.leaveOpen(at)
	}
}

// astray counts the gaps in a row that had to be left open. After a few of them
// it is the prediction that is wrong, and the speed must be sought again.
func (t *Tracker) astray() {
	if t.lastOpen != t.steps-1 {
		t.opens = 0
	}
	t.opens++
	t.lastOpen = t.steps
}

// lateFromDue counts the passes up to a late stamp from where the last pass was
// rather than from its stamp: from where that was due if it was off, as an
// interrupt that holds a stamp up makes its gap long and the next one short; or
// from a stamp soon after it, which was left out but may have been the pass when
// the last stamp was a stray just before it.
func (t *Tracker) lateFromDue(at int64) (int, bool) {
	mark := t.mark()
	for n := 1; n <= bridgeMost; n++ {
		spanned := t.marks.spanned(mark, n)
		if math.Abs(float64(at-t.last)/t.pred-spanned) > 2*bridgeSlack {
			continue
		}
		if t.oddStep == t.steps && t.steps > 0 && math.Abs((float64(at)-t.oddDue)/t.pred-spanned) < bridgeSlack {
			return n, true
		}
		if t.lastExtra > t.last && math.Abs(float64(at-t.lastExtra)/t.pred-spanned) < near {
			return n, true
		}
	}
	return 0, false
}

// open notes a gap that is left open.
func (t *Tracker) open(at int64, stopped bool) {
	if !t.opened {
		return
	}
	t.gapsOpen++
	t.longestGap = max(t.longestGap, at-t.last)
	if !stopped && t.pred > 0 {
		t.stepsLost = math.Hypot(t.stepsLost, float64(at-t.last)/t.pred-1)
	}
}

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

// leaveOut drops an extra stamp.
func (t *Tracker) leaveOut(at int64) {
	if t.counts(at) {
		t.notes.noteExtra(at)
	}
	t.lastExtra = at
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

// allowFast lets regular stamps go past judge unless something forbids it.
func (t *Tracker) allowFast() {
	t.slow = t.seeking || t.holding || t.closed || t.rebase || !t.marks.even
}

// mark returns the mark of the last genuine stamp.
func (t *Tracker) mark() int64 {
	return (t.firstMark + t.steps) % int64(t.marks.count)
}
