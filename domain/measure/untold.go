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
		t.halfMost >= halfRunMost || t.doubtRun() || t.lamp()
}
