package measure

import "math"

// named is what the outside calls a way.
func (h partHow) named() EdgeHow {
	switch h {
	case partBetween:
		return EdgeBetween
	case partPredicted:
		return EdgePredicted
	case partBridged:
		return EdgeBridged
	case partCapped:
		return EdgeDue
	case partUnknown, partNotComputed:
		return EdgeUnknown
	default:
		return EdgeNone
	}
}

// Finish returns the measurement of what was added so far. end is the time in µs
// on the bench's clock (wraps taken out) at which the run was ended, or NoEnd.
// The tracker is not changed, so that it may go on.
func (t *Tracker) Finish(end int64) Measurement {
	c := *t
	c.flush(end)
	return c.finish(end)
}

// finish computes the measurement of a flushed tracker.
func (t *Tracker) finish(end int64) Measurement {
	m := Measurement{
		Extra: t.notes.extra, Bridged: t.notes.bridged, Open: t.gapsOpen,
		Wraps: t.clock.wraps, Corrections: t.notes.expand(),
	}
	t.bounds(&m, end)
	bench := t.setup.Bench
	if t.opened && t.steps+t.early > 0 {
		m.Turns = max(0, t.wholeTurns()+t.startPart+t.endPart)
		m.Start, m.End = Edge{t.startPart, t.startHow.named()}, Edge{t.endPart, t.endHow.named()}
	}
	m.RawDistanceM = m.Turns * bench.CircumferenceMM / 1000
	// In a race by distance the way is given: it is not read back from the turns.
	if t.targetTurns > 0 && t.closed {
		m.RawDistanceM = *t.setup.Race.DistanceM * bench.Factor
	}
	m.DistanceM = m.RawDistanceM / bench.Factor
	// In whole µm, so that the last bits of a float do not decide about a lap that is just full.
	if lap := round(t.setup.Race.LapM * 1e6); lap > 0 {
		m.Laps = round(m.DistanceM*1e6) / lap
	}
	t.speeds(&m)
	if t.opened && t.steps > t.openStep {
		t.doubt(&m)
	} else {
		m.Distance.forgo()
	}
	t.flags(&m, end)
	return m
}

// bounds finds where the run begins and ends and the parts of a turn there.
func (t *Tracker) bounds(m *Measurement, end int64) {
	if !t.opened {
		return
	}
	if t.startHow == partNotComputed {
		t.startPart, t.startU, t.startHow = t.startAhead()
	}
	m.FromUS, m.ToUS = t.openAt, t.last
	if t.hasStart {
		m.FromUS = t.startAt
	}
	took := float64(m.ToUS - m.FromUS)
	switch {
	case t.targetTurns > 0 && t.closed:
		m.ToUS = round(t.endTime)
		took = t.endTime - float64(m.FromUS)
	case t.targetTurns > 0:
		took = 0
	case t.hasEnd:
		m.ToUS = t.endAt
		// The stamps were ended before the race was: what came after is not known.
		if end >= 0 && end < t.endAt && !t.closed {
			m.ToUS = max(end, t.last)
		}
		if !t.closed {
			t.endPart, t.endHow = t.endAhead(m.ToUS)
		}
		took = float64(m.ToUS - m.FromUS)
	}
	m.TimeS = max(0, took) / 1e6
}

// wholeTurns returns the turns between the first and the last counted stamp.
// It is negative only if start and end lie between the same two stamps.
func (t *Tracker) wholeTurns() float64 {
	n := t.steps - t.openStep
	if n < 0 {
		return -t.marks.turns(t.mark(), -n)
	}
	return t.marks.turns((t.firstMark+t.openStep)%int64(t.marks.count), n)
}

// speeds fills in everything per time.
func (t *Tracker) speeds(m *Measurement) {
	seconds := float64(m.ToUS-m.FromUS) / 1e6
	if seconds > 0 {
		m.MeanRPM = m.Turns / seconds * 60
	}
	if gap := t.window.top(t.steps); gap > 0 && m.Turns > 0 {
		m.MaxRPM = 60e6 / (gap * float64(t.marks.count))
	}
	m.MaxRPM = max(m.MaxRPM, m.MeanRPM)
	perRPM := t.setup.Bench.CircumferenceMM / 1000 / 60 / t.setup.Bench.Factor
	m.MeanSpeedMPS, m.MaxSpeedMPS = m.MeanRPM*perRPM, m.MaxRPM*perRPM
	if d := t.setup.Car.WheelDiameterMM; d > 0 {
		m.WheelMeanRPM = m.MeanSpeedMPS * 60 / (math.Pi * d / 1000)
		m.WheelMaxRPM = m.MaxSpeedMPS * 60 / (math.Pi * d / 1000)
	}
}

// flags lists what a reader must know.
func (t *Tracker) flags(m *Measurement, end int64) {
	say := func(when bool, code Code, args ...int64) {
		if when {
			m.Flags = append(m.Flags, Flag{code, args})
		}
	}
	marks := int64(t.marks.count)
	counted := max(0, t.steps-t.openStep)
	stamps := counted + int64(m.Extra)
	until := m.ToUS
	if !t.hasEnd {
		until = max(end, t.last)
	}
	still := until - t.last

	silent := !t.opened || counted == 0
	// The order stands in every event, and catalogue lists the codes in the same: it is not changed.
	// Where there is no signal, those that would only say so again are left out.
	say(silent, NoSignal)
	say(!silent && t.hasEnd && !t.closed && m.ToUS < t.endAt, CutShort, (t.endAt-m.ToUS+500)/1000)
	say(t.targetTurns > 0 && !t.closed, NotReached)
	say(t.early > 0, EarlyStart, t.early/marks)
	say(t.hasStart && t.startHow == partPredicted && t.noRise(), NoRise)
	// Beyond one pass the part at the start holds passes that nobody saw.
	say(t.startHow == partBridged && t.startPart*float64(marks) > 1.5, StartMissed, round(t.startPart))
	say(m.Bridged > 0, Bridged, int64(m.Bridged))
	// More than 2 % filled in, or 5 % left out, but not one or two of a short run.
	say(int64(m.Bridged)*50 > counted && m.Bridged > 2, ManyBridged, int64(m.Bridged), counted)
	say(int64(m.Extra)*20 > stamps && m.Extra > 2, ManyExtra, int64(m.Extra), stamps)
	say(t.bursts > 0, Burst, int64(t.bursts))
	say(t.rowsFilled > 0, RowFilled, int64(t.rowsFilled))
	say(!silent && (t.mistaken() > 0 || t.dubious > 0 || t.strays >= strayTold), StrayStamps, int64(t.strays))
	say(m.Open > 0, OpenGap, int64(m.Open), t.longestGap/1000)
	stood := !t.closed && t.pred > 0 && float64(still) > max(stallGaps*t.pred, stallUS)
	say(stood, Stalled, still/1000)
	say(stood && t.silentlyEnded(), WentSilent, still/1000)
	say(t.lateEnd, LateEnd)
	say(t.endHow == partCapped && t.overdue > silentSteps, SilentEnd, still/1000)
	say(t.coasted, Coasting)
	say(t.lamp(), MainsFlicker, t.flickerRate)
	say(t.halfMost >= halfRunMost, HalfSpeed, t.halfMost*2/marks)
	say(t.doubleMost >= doubleRunMost, DoubleSpeed, t.doubleMost/marks)
	say(t.silentMark, MarkSilent, int64(t.setup.Bench.MarksPerTurn))
	say(m.MaxRPM > 25_000, TooFast)
	say(t.disorder > 0, Noise, int64(t.disorder))
	say(t.backwards > 0, Backwards, int64(t.backwards))
	say(t.impossible > 0, Impossible, int64(t.impossible))
	say(t.restarts > 0, Restarted, int64(t.restarts))
	say(!silent && t.clock.narrow(), ClockAmbiguous, int64(t.ambiguous))
	// The list holds MostCorrections, and the counts go on.
	say(m.Extra+m.Bridged > len(m.Corrections), ListCut, MostCorrections)
	say(t.setup.Bench.Factor != 1, FactorApplied)
	say(m.WheelMaxRPM > 0, NoSlipAssumed)
	say(!silent && (m.Distance.None || m.Time.None), NoInterval)
}

// noRise reports whether the first gaps after the start are as short as those
// at full speed. A roller that starts from rest needs several turns for that.
func (t *Tracker) noRise() bool {
	fastest := t.window.top(t.steps)
	return fastest > 0 && t.rise.points > 2 && t.rise.times[1]-t.rise.times[0] < 1.1*fastest*t.rise.steps[1]
}

// round rounds half away from zero to an integer and keeps within 2^53.
func round(x float64) int64 {
	if math.IsNaN(x) {
		return 0
	}
	return int64(max(-mostStamp, min(mostStamp, math.Round(x))))
}

// Measure measures a whole train of stamps: it is New, Add for each stamp and
// Finish at the last one. The error names what is wrong with the setup; no
// train of stamps is an error.
func Measure(setup Setup, stamps []int64) (Measurement, error) {
	t, err := New(setup)
	if err != nil {
		return Measurement{}, err
	}
	t.AddAll(stamps)
	return t.Finish(NoEnd), nil
}
