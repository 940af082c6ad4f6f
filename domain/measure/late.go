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
