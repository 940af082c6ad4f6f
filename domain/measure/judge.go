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

	// farUS, and farGaps predicted gaps, after the last stamp the next one is believed
	// only when another confirms it.
	farUS   = 3_000_000
	farGaps = 10

	// slowing is by how much a second late gap is longer than the first where the
	// roller slows down rather than passes are missed.
	slowing = 1.15

	// crowded is how many stamps between two passes are no chatter of a mark's edge:
	// what comes among them is no pass either.
	crowded = 6
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
	if !t.clock.any {
		t.lieFirst(stamp)
	}
	if at := stamp + t.offset; (at-t.last >= farUS || t.clock.farther) && t.farAhead(stamp) {
		return
	}
	t.accept(stamp)
}

// accept takes a stamp that is as good as the clock makes it.
func (t *Tracker) accept(stamp int64) {
	at, offset, v := t.clock.unwrapAfter(t.last, stamp, t.offset)
	switch v {
	case backwardStamp:
		t.backwards++
		return
	case impossibleStamp:
		t.impossible++
		return
	}
	if t.clock.narrow() && t.steps > 0 && at-t.last > t.clock.period/2 {
		t.ambiguous++
	}
	t.offset = offset
	if t.steps >= t.stepEdge && !t.seeking {
		t.block()
	}
	t.take(at)
}

// lieFirst finds out, at the first stamp of a counter that wraps, on which side of a
// wrap the start signal lies: within half the counter's range of the stamp.
func (t *Tracker) lieFirst(stamp int64) {
	period := t.clock.period
	if period == 0 || !t.hasStart || stamp < 0 || stamp >= period || t.startAt >= period {
		return
	}
	switch {
	case stamp < t.startAt-period/2:
		t.offset += period // the counter wrapped between the signal and the stamp
		t.clock.wraps++
	case stamp > t.startAt+period/2:
		t.startAt += period // it is to wrap before the signal
		t.endAt += period
		t.edge = t.nextEdge()
	}
}

// farAhead keeps back a stamp that comes so much later than the one before that it
// may be a garbled number, which would end the run or feign a wrap: the next stamp
// tells. It reports whether the stamp was kept.
func (t *Tracker) farAhead(stamp int64) bool {
	c := &t.clock
	if c.farther {
		c.farther = false
		far := c.far
		if next, _, v := t.clock.peek(t.last, stamp, t.offset); v == goodStamp {
			if at, _, _ := t.clock.peek(t.last, far, t.offset); next < at {
				t.impossible++
				return t.farAhead(stamp)
			}
		}
		t.accept(far)
		return false
	}
	if !c.any || t.steps == 0 && t.waits < 2 {
		return false
	}
	at, _, v := c.peek(t.last, stamp, t.offset)
	if v != goodStamp || float64(at-max(c.seen, t.last)) < max(farUS, farGaps*t.pred) {
		return false
	}
	c.far, c.farther = stamp, true
	t.allowFast()
	return true
}

// take judges a time that the clock vouches for.
func (t *Tracker) take(at int64) {
	switch {
	case t.closed:
	case t.lesson.on:
		t.learn(at)
	case t.seeking:
		t.gather(at)
	case t.holding:
		t.resolve(at)
	default:
		t.consider(at)
	}
}

// consider judges a stamp against the prediction alone.
func (t *Tracker) consider(at int64) {
	gap := float64(at-t.last) / t.marks.scale[t.mark()]
	r := gap / t.pred
	if off := math.Abs(r-1) > near; off && r >= chatterPart || t.schedule.pending {
		if off && at-t.last >= chatterUS {
			t.keepSchedule((r - 1) * t.pred)
		}
		if t.onSchedule(at) {
			return
		}
	}
	switch {
	case r < chatterPart || at-t.last < chatterUS:
		t.leaveOut(at)
	case r < lockOut:
		t.leaveStray(at)
	case t.crowd > crowded && t.crowdStep == t.steps:
		t.bursts++
		t.lose(at)
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
	if !t.heldLate && t.bothOnSchedule(at) {
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
		if t.steps == t.middleStep+1 {
			t.middleRun++
			t.middleMost = max(t.middleMost, t.middleRun)
		} else {
			t.middleRun = 1
		}
		t.middleStep = t.steps
		t.leaveStray(t.release())
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
		t.leaveStray(t.release())
	} else {
		t.advanceOdd(t.release(), first)
	}
	t.consider(at)
}

// doubtSearch searches once more if soon after the search every gap had a stamp
// in its middle: then the gap that was found holds two.
func (t *Tracker) doubtSearch(at int64) {
	if t.searchedAgain || t.doubleRun < 4 || t.steps-t.foundStep > 3*seekSize || t.last != at || t.closed {
		return
	}
	t.searchedAgain = true
	t.open(at)
	t.unbounded = true
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

// NoEnd tells Finish that no end was stated: the last stamp is the last thing known.
const NoEnd int64 = -1

// flush judges what still waits for a later stamp, at the end of a run or before
// the clock begins anew.
func (t *Tracker) flush(end int64) {
	// In the order in which a stamp goes through: what the clock kept back may come to the lesson,
	// what the lesson kept back to the search, and what the search leaves to the prediction.
	if t.clock.farther {
		t.clock.farther = false
		t.accept(t.clock.far)
	}
	if t.lesson.on {
		// All marks first; that one of them is silent is only believed when those cannot be learnt.
		if !t.learnt(t.setup.Bench.MarksPerTurn, false) {
			t.learnt(t.setup.Bench.MarksPerTurn-1, true)
		}
		t.endLesson()
	}
	if t.seeking && t.waits > 1 && !t.closed {
		t.settle(true)
	}
	if t.seeking && t.crossing && t.waits == 1 && !t.closed {
		t.lastLate(t.waiting[0], 0, end)
	}
	if t.holding && !t.closed {
		gap := float64(t.held-t.last) / t.marks.scale[t.mark()]
		switch at := t.release(); {
		case t.heldLate:
			t.lastLate(at, t.heldPasses, end)
		// No stamp comes to explain an early one. It counts if it is hardly early.
		case gap >= (1-bridgeSlack)*t.pred:
			t.advanceOdd(at, gap)
		default:
			t.leaveOut(at)
		}
	}
	if t.steps > t.blockStep {
		t.block()
	}
}
