package measure

import "math"

// phases returns the parts in m that come from what is not seen of the turns.
func (t *Tracker) phases() []Part {
	b := t.setup.Bench
	perStep := b.CircumferenceMM / 1000 / b.Factor / float64(t.marks.count)
	jitter := t.jitter()
	parts := []Part{
		t.partAt("start", t.startHow, jitter),
		t.partAt("end", t.endHow, jitter),
		{Cause: "gaps", Shape: Normal, U: math.Sqrt(t.lostSquares)},
	}
	for i := range parts {
		parts[i].U *= perStep
	}
	return append(parts, Part{Cause: "resolution", Shape: Rectangular, U: t.endSpeed() * b.StampUS / math.Sqrt(6)})
}

// scales returns the parts in m that grow with the distance.
func (t *Tracker) scales(distance float64) []Part {
	b := t.setup.Bench
	return []Part{
		{Cause: "circumference", Shape: Normal, U: distance * b.CircumferenceUncertaintyMM / b.CircumferenceMM},
		{Cause: "factor", Shape: Normal, U: distance * b.FactorUncertainty / b.Factor, Degrees: b.FactorDegrees},
	}
}

// endSpeed is the surface's speed at the end in m per µs, or 0 where it stood still.
func (t *Tracker) endSpeed() float64 {
	if !(t.pred > 0) || t.endHow == partUnknown || t.endHow == partNone {
		return 0
	}
	b := t.setup.Bench
	return b.CircumferenceMM / 1000 / b.Factor / float64(t.marks.count) / t.pred
}

// doubt fills in how well distance, time and mean speed are known.
func (t *Tracker) doubt(m *Measurement) {
	b, race := t.setup.Bench, t.setup.Race
	phases, scales := t.phases(), t.scales(m.DistanceM)
	perStep := b.CircumferenceMM / 1000 / b.Factor / float64(t.marks.count)
	var clock, delay float64
	switch {
	case t.targetTurns > 0 && t.closed:
		// The distance is given, so what is not known of it becomes time at the speed of the end.
		perM := 0.0
		if v := t.endSpeed(); v > 0 {
			perM = 1 / v / 1e6
		}
		parts := append(phases, scales...)
		for i := range parts {
			parts[i].U *= perM
		}
		m.Time = Combine(append(parts,
			Part{Cause: "clock", Shape: Normal, U: m.TimeS * b.ClockPPM * 1e-6},
			Part{Cause: "delay", Shape: Rectangular, U: race.StartDelayUS / 1e6 / math.Sqrt(3)}))
		m.Time.widen(t.aboveSteps*perStep*perM, t.belowSteps*perStep*perM)
		if t.untold() {
			m.Time.forgo()
		}
		m.Distance = Combine(nil)
		return
	case t.duration > 0 && t.hasEnd:
		// A clock that is off moves the end of the race, and so does a start signal that came
		// before its stamp: each changes the way by what the surface does at its end.
		clock = t.endSpeed() * float64(t.duration) * b.ClockPPM * 1e-6
		delay = t.endSpeed() * race.StartDelayUS / math.Sqrt(3)
	}
	m.Distance = Combine(append(append(phases, scales...),
		Part{Cause: "clock", Shape: Normal, U: clock}, Part{Cause: "delay", Shape: Rectangular, U: delay}))
	// Other readings of the stamps come on top, for they are no matter of chance. The way cannot be
	// less than nothing.
	m.Distance.widen(min((t.belowSteps+t.mistaken()+float64(t.dubious))*perStep, m.DistanceM), (t.aboveSteps+t.mistaken())*perStep)
	if t.untold() {
		m.Distance.forgo()
	}
	if m.DistanceM > 0 {
		// Speed is way over time, so the relative parts add up; the time is known but for the clock.
		relative := []Part{{Shape: Normal, U: b.ClockPPM * 1e-6}}
		for _, p := range append(phases, scales...) {
			relative = append(relative, Part{Cause: p.Cause, Shape: p.Shape, U: p.U / m.DistanceM, Degrees: p.Degrees})
		}
		m.UMeanSpeedMPS = m.MeanSpeedMPS * Combine(relative).Standard
	}
}

// partAt returns the uncertainty, in steps, of the part of a turn at one end.
// jitter is the scatter of a stamp over the gap. The scatter of a prediction at
// the end was found with simulated runs.
func (t *Tracker) partAt(cause string, how partHow, jitter float64) Part {
	p := Part{Cause: cause, Shape: Normal}
	ripple := 0.0008 * float64(t.marks.count)
	switch how {
	case partBetween:
		p.U = math.Hypot(0.8*jitter, ripple)
	case partPredicted, partBridged:
		p.U = math.Hypot(jitter, ripple)
		if cause == "start" {
			p.U = t.startU
			if t.startEven {
				p.Shape = Rectangular
			}
		}
	case partCapped:
		p.Shape, p.U = Rectangular, math.Hypot(max(0, min(silentSteps, t.overdue)), jitter)/math.Sqrt(3)
	case partUnknown:
		p.Shape, p.U = Rectangular, 1/math.Sqrt(12)
	}
	return p
}

// jitter returns the scatter of a stamp in parts of a gap, from the surprises
// of the regular stamps: a gap holds two of them, and the prediction, which holds
// the one before with the other sign, adds 0.9.
func (t *Tracker) jitter() float64 {
	if t.steps < 20 || !(t.level() > 0) {
		return 0.01
	}
	return math.Min(0.1, math.Sqrt(t.noise/float64(t.steps)/2.9)/t.level())
}
