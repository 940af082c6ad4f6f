package measure

const (
	// strayMost stray stamps a pass leave no order to count by; where there are
	// strayMany one may have been taken for a pass, or a pass for one of them, and with
	// strayFew only where something at the start speaks for it.
	strayMost = 0.28
	strayMany = 0.15
	strayFew  = 0.002
	// strayTold stray stamps are told of, whatever they may have done.
	strayTold = 20
)

// strayed returns the stray stamps a pass.
func (t *Tracker) strayed() float64 {
	return float64(t.strays) / float64(max(1, t.steps-t.openStep))
}

// mistaken is by how many steps the count may be wrong on either side, as a stray
// stamp was taken for a pass: most likely at the start, where no speed is known yet.
func (t *Tracker) mistaken() float64 {
	part := t.startPart * float64(t.marks.count)
	switch rate := t.strayed(); {
	case t.strayBursts > 0:
		return float64(min(3, t.strayBursts)) + rate
	case rate > strayMany:
		return 1 + rate
	case rate > strayFew && (t.earlyStrays > 0 && rate > 0.06 || t.hasStart && (part < 0.12 || part > 0.97 || t.startEven)):
		return 1
	default:
		return 0
	}
}

// untold reports whether something happened of which nobody can say how much way it
// hides or feigns.
func (t *Tracker) untold() bool {
	return t.unbounded || t.startLost || t.strayed() > strayMost || t.restarts > 0 || t.clock.narrow() ||
		t.halfMost >= halfRunMost || t.doubtRun() || t.lamp() || t.silentlyEnded()
}

const (
	// A roller of which a mark passes within quickGapUS takes two gaps and more to stop, even where
	// something jams it: the shortest time constant of a stop is 20 ms (engineering judgement). With one
	// such time constant the last gap is half as long again as those before; slowsDown is half of that.
	quickGapUS = 10_000
	slowsDown  = 1.25
	silentOf   = 5 // gaps before the last one, of which the mean is taken
)

// silentlyEnded reports whether the stamps ended well before the run while the roller turned
// as quickly as before. One that stops shows it in its last gaps; a sensor that fails does not.
func (t *Tracker) silentlyEnded() bool {
	if t.closed || t.endHow != partUnknown || t.steps-t.window.begun <= silentOf {
		return false
	}
	at := func(back int64) int64 { return t.window.times[(t.steps-back)&ringMask] }
	before := float64(at(1)-at(1+silentOf)) / t.marks.spanned(t.markAt(t.steps-1-silentOf), silentOf)
	last := float64(t.last-at(1)) / t.marks.spanned(t.markAt(t.steps-1), 1)
	return before > 0 && before < quickGapUS && last < slowsDown*before
}
