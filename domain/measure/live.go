package measure

// liveUS is the time over which a live speed is taken: reciprocal counting over
// whole turns, whose resolution grows with the time and not with the speed.
const liveUS = 100_000

// Live is what a screen shows while the run goes on.
type Live struct {
	// RPM of the roller and SpeedMPS of its surface now.
	RPM, SpeedMPS float64
	// Turns and DistanceM so far: whole marks since the start.
	Turns, DistanceM float64
	// Laps so far.
	Laps int64
	// Stalled is set when no stamp has come for three gaps and half a second.
	Stalled bool
	// Over is set when the run has reached its end.
	Over bool
}

// Live returns the state at a time in µs on the bench's clock, wraps taken out.
// The speed falls while no stamp comes: since the last one the roller has done
// less than a step.
func (t *Tracker) Live(now int64) Live {
	v := Live{Over: t.closed}
	last, steps := t.last, max(0, t.steps-t.openStep)
	gap, _ := t.window.recent(t.steps, t.pred, liveUS)
	// While the places of the marks are learnt nothing is counted: the stamps that are kept back
	// show the speed over a whole turn, which does not depend on where the marks are.
	if n := t.lesson.n; t.lesson.on && n > t.marks.count {
		last = t.lesson.stamps[n-1]
		gap = float64(last-t.lesson.stamps[n-1-t.marks.count]) / float64(t.marks.count)
		steps = int64(n - 1)
	}
	// Nor is anything counted while a speed is looked for: the last gap is all there is.
	if t.seeking && t.waits > 1 {
		last = t.waiting[t.waits-1]
		gap = float64(last - t.waiting[t.waits-2])
		if !t.hasStart || t.waiting[0] >= t.startAt {
			steps += int64(t.waits - 1)
		}
	}
	if t.opened || t.seeking {
		v.Turns = float64(steps) / float64(t.marks.count)
	}
	if gap > 0 {
		since := float64(now - last)
		v.Stalled = since > max(stallGaps*gap, stallUS)
		v.RPM = 60e6 / (max(gap, since) * float64(t.marks.count))
	}
	b := t.setup.Bench
	perTurn := b.CircumferenceMM / 1000 / b.Factor
	v.SpeedMPS, v.DistanceM = v.RPM/60*perTurn, v.Turns*perTurn
	if lap := round(t.setup.Race.LapM * 1e6); lap > 0 {
		v.Laps = round(v.DistanceM*1e6) / lap
	}
	return v
}
