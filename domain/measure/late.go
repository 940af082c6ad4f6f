package measure

import "math"

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
		if n == 1 {
			t.advanceOdd(at, gap/spanned)
		} else {
			t.holdLate(at, n)
		}
		return
	}
	if n, ok := t.lateFromDue(at); ok && !stopping {
		t.holdLate(at, n)
		return
	}
	each := gap / t.marks.scale[mark]
	switch {
	case gap > lostAfterUS && each > (bridgeMost+bridgeSlack)*t.pred:
		// The speed is unknown again.
		if !stopping {
			t.lose(at)
			return
		}
		// The roller all but stood still: two passes are whole turns apart, and it
		// can hardly have made more than one.
		t.open(at)
		t.advance(at, 1)
		t.window.restart(t.steps, at)
		t.seekFrom(at)
	case stopping || (each < ambiguous*t.pred && t.oddLate && t.oddStep == t.steps):
		t.advanceOdd(at, each)
	case each < ambiguous*t.pred && t.pred < slowRoller*t.window.shortest():
		t.holdLate(at, 0)
	default:
		t.lose(at)
	}
}

// holdLate keeps a late stamp back until the next one tells whether passes were
// missed, so that the roller goes on as before, or whether it slows down.
func (t *Tracker) holdLate(at int64, passes int) {
	t.hold(at)
	t.heldLate, t.heldPasses = true, passes
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
func (t *Tracker) open(at int64) {
	if !t.opened {
		return
	}
	t.gapsOpen++
	t.longestGap = max(t.longestGap, at-t.last)
}

// resolveLate decides about a held stamp that came late, now that the next one is
// there. If that one comes where the prediction has it, passes were missed before
// the held one. If it comes later still, the roller slows down. If the two make
// two gaps in all, they are counted whatever the held one was: a stray beside a
// missed pass or, if it was not very late, a pass whose stamp was held up.
func (t *Tracker) resolveLate(at int64) {
	mark, n := t.mark(), t.heldPasses
	spanned := t.marks.spanned(mark, max(1, n))
	first := float64(t.held-t.last) / t.marks.scale[mark]
	second := float64(at-t.held) / t.marks.scale[t.markAt(t.steps+int64(max(1, n)))]
	whole := float64(at-t.last) / t.marks.spanned(mark, 2)
	switch {
	// Too soon after the held stamp to tell anything: that is held on for the next one.
	case float64(at-t.held) < lockOut*t.pred:
		t.leaveOut(at)
	case n == 0 && math.Abs(whole/t.pred-1) <= near && first < heldUp*t.pred:
		// The top speed is shown the time at which the pass was due, not that of its late stamp.
		t.advanceShown(t.release(), 1, t.last+int64(t.pred*t.marks.scale[mark]))
		t.advance(at, 1)
		t.follow(whole, whole-t.pred)
	case n == 0 && math.Abs(whole/t.pred-1) <= near:
		t.leaveStray(t.release())
		t.bridge(at, 2)
		t.follow(whole, whole-t.pred)
	case n > 0 && t.goesOn(n, at):
		each, due := float64(t.held-t.last)/spanned, float64(t.last)+t.pred*spanned
		held := t.release()
		t.bridge(held, n)
		// The prediction follows by no more than a regular stamp could move it: the held one may itself
		// be late.
		t.follow(each, max(-near*t.pred, min(near*t.pred, each-t.pred)))
		// lateFromDue counts the next gap from where this stamp was due.
		if off := float64(held) - due; math.Abs(off) > near*t.pred {
			t.oddStep, t.oddLate, t.oddDue = t.steps, off > 0, due
		}
		t.take(at)
	case second > slowing*first:
		t.slowTo(t.release(), first)
		t.take(at)
	default:
		t.lose(t.release())
		t.take(at)
	}
}

// goesOn reports whether the roller goes on as predicted after a held stamp that
// came n passes late: the next stamp, at a time, comes after one gap, or both
// stamps lie plainly at whole numbers of gaps, which a roller that slows down hardly
// ever does.
func (t *Tracker) goesOn(n int, at int64) bool {
	const plainly = 0.1
	off := func(gap float64, mark int64, n int) float64 { return math.Abs(gap/t.pred - t.marks.spanned(mark, n)) }
	beyond := t.markAt(t.steps + int64(n))
	first, second := float64(t.held-t.last), float64(at-t.held)
	if off(second, beyond, 1) < bridgeSlack*t.marks.scale[beyond] {
		return true
	}
	if off(first, t.mark(), n) > plainly {
		return false
	}
	for m := 2; m <= bridgeMost; m++ {
		if off(second, beyond, m) < plainly {
			return true
		}
	}
	return false
}

// slowTo goes on by one step to a late stamp of a roller that slows down.
func (t *Tracker) slowTo(at int64, gap float64) {
	trend := max(0, min(0.5*gap, gap-t.level()))
	t.advance(at, 1)
	t.quicken()
	t.predict(gap, trend)
}

// lastLate counts the very last stamp, which came late, so that no other tells
// whether the roller slowed down or passes were missed. If it ought to have passed
// again before the end and did not, it has stopped: one pass, and few could have
// been missed before. Else it is read as the prediction has it. Either way the other
// reading stays within the interval.
func (t *Tracker) lastLate(at int64, passes int, end int64) {
	t.seeking, t.crossing = false, false
	each := float64(at-t.last) / t.marks.scale[t.mark()]
	n := passes
	if n == 0 {
		n = max(1, int(math.Round(each/t.pred)))
	}
	if t.hasEnd {
		end = t.endAt
	}
	stopped := float64(end-at) > 1.5*t.pred
	t.lateEnd = n > 1
	switch {
	case stopped:
		t.advance(at, 1)
		t.aboveSteps += float64(n - 1)
	case n <= bridgeMost:
		t.bridge(at, n)
		t.belowSteps += float64(n - 1)
	default:
		t.open(at)
		t.unbounded = true
		t.advance(at, 1)
	}
	t.allowFast()
}
