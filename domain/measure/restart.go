package measure

// Restart tells the tracker that the counter box has started anew: its next
// stamp comes from a clock that began at zero, at an unknown time after the last
// one. The turns of both parts are added; what happened in between is not
// counted, and the measurement is flagged. A race with a duration goes on at
// its last stamp, so that its end is late by the time that was lost: such a run
// should be repeated.
func (t *Tracker) Restart() {
	if t.closed {
		return
	}
	t.flush(NoEnd)
	t.restarts++
	t.rebase = true
	t.slow = true
}

// resume takes the first stamp after a restart.
func (t *Tracker) resume(stamp int64) {
	if stamp < 0 || stamp >= mostStamp {
		t.impossible++
		return
	}
	t.rebase = false
	last := max(t.last, t.clock.seen)
	t.offset = last + 1 - stamp
	at := last + 1
	t.clock.any, t.clock.seen = true, at
	t.last = at
	t.window.restart(t.steps, at)
	if t.opened || t.steps > 0 {
		t.seekFrom(at)
		return
	}
	t.seek()
	t.gather(at)
}
