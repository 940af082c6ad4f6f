package signal

import (
	"math"
	"slices"

	"benchmeet/domain/measure"
)

// Report is what a look at a signal found.
type Report struct {
	// Fault is the worst that is wrong; empty where the signal is good.
	Fault Fault
	// Passes that were seen or filled in, and the seconds from the first to the last.
	Passes  int
	Seconds float64
	// Marks is how many marks the signal shows in a turn, MarkAngles their places in
	// degrees where they do not stand evenly.
	Marks      int
	MarkAngles []float64
	// RPM is the steady speed of the roller by these marks, in turns a minute.
	RPM float64
	// Echoes and Misses are rates a pass, Strays those in a second.
	Echoes, Misses, Strays float64
	// EchoUS is how long behind its pass the latest of the echoes comes, in µs: nine of
	// ten come sooner. 0 without echoes.
	EchoUS float64
	// Scatter is the standard deviation of a stamp, as a part of the step.
	Scatter float64
	// SafeRPM is the highest speed up to which this signal is counted right, at most
	// MostRPM. 0 where the signal is not good.
	SafeRPM float64

	ended bool // at full speed, long before the end of the look
}

// MostRPM is the speed up to which rollers are measured.
const MostRPM = 25_000

// Limits above which a signal is not good.
const (
	mostEchoes  = 0.06  // a pass
	mostMisses  = 0.015 // a pass
	mostStrays  = 0.08  // a second
	mostScatter = 0.02  // of a step
	fewest      = 60    // passes that can be judged
)

// Good says whether the bench can be raced on.
func (r Report) Good() bool { return r.Fault == "" }

// Look judges the stamps of a car at full speed, in µs of the box's clock as it sends
// them. Marks is how many marks a turn are stated; 0 means one. UntilUS is that clock when
// the look ended, 0 where nobody knows. Ten seconds are enough. It costs what measuring
// them costs, and some memory for each.
func Look(stamps []int64, marks int, untilUS int64) Report {
	marks = max(1, marks)
	if len(stamps) == 0 {
		return Report{Fault: Silent}
	}
	m, err := measure.Measure(measure.Setup{Bench: measure.Bench{CircumferenceMM: 100, MarksPerTurn: marks}}, stamps)
	if err != nil || len(stamps) < fewest {
		return Report{Fault: TooShort, Passes: len(stamps), Marks: marks}
	}
	flags := map[measure.Code]bool{}
	for _, f := range m.Flags {
		flags[f.Code] = true
	}
	t := newTrain(stamps, m)
	r := Report{Marks: marks, Seconds: t.seconds(), Passes: len(t.genuine) + t.bridged}
	if flags[measure.MainsFlicker] {
		r.Fault = Lamp
		return r
	}
	all := newRaw(stamps)
	places := all.places(marks)
	r.MarkAngles = angles(places)
	if len(places) > 1 {
		r.Marks = len(places)
	}
	// So little was left of the stamps that their rates say nothing.
	if len(t.genuine) < fewest/2 {
		switch {
		case r.Marks != marks:
			r.Fault = Marks
		case all.crowds():
			r.Fault = Bursts
		case m.Extra > len(t.genuine):
			r.Fault = Stray
		default:
			r.Fault = TooShort
		}
		return r
	}
	strays := t.strays()
	r.Strays = float64(strays) / r.Seconds
	r.Echoes = float64(max(0, len(t.extras)-strays)) / float64(r.Passes)
	r.Misses = float64(t.bridged) / float64(r.Passes)
	r.EchoUS = t.echoUS()
	// What was left out puts the steps out of their order: each of the two ways to look at
	// them only ever sees too much.
	r.Scatter = min(all.scatter(len(places)), newRaw(t.genuine).scatter(len(places)))
	r.RPM = 60e6 / t.turn(r.Marks)
	r.ended = untilUS > 0 && t.endsAtOnce(untilUS)
	r.Fault = r.worst(flags, marks, all, places)
	if r.Good() {
		r.SafeRPM = r.safe()
	}
	return r
}

// worst weighs each rate against its limit: the fault that goes furthest beyond it. Before
// that comes what makes the rates themselves untrue.
func (r Report) worst(flags map[measure.Code]bool, stated int, all raw, places []float64) Fault {
	switch {
	case all.crowds():
		return Bursts
	case len(places) > 1 && slices.Min(places) < echoPart:
		return Echo // of every pass: two edges of one mark
	case flags[measure.MarkSilent], r.Marks != stated:
		return Marks
	case r.Scatter > mostScatter && all.split() < r.Scatter:
		return Unsteady
	case r.Misses > mostMisses && r.Strays*r.Seconds < r.Misses*float64(r.Passes):
		return Missed // where rows are missing, some stamps behind them look like strays
	}
	type weighed struct {
		fault Fault
		by    float64
	}
	list := []weighed{
		{Echo, r.Echoes / mostEchoes},
		{Missed, r.Misses / mostMisses},
		{Stray, r.Strays / mostStrays},
		{Unsteady, r.Scatter / mostScatter},
	}
	worst := slices.MaxFunc(list, func(a, b weighed) int {
		switch {
		case a.by < b.by:
			return -1
		case a.by > b.by:
			return 1
		}
		return 0
	})
	switch {
	case worst.by > 1:
		return worst.fault
	case r.ended:
		return Breaks
	}
	for _, f := range []struct {
		code  measure.Code
		fault Fault
	}{
		{measure.DoubleSpeed, Echo},
		{measure.HalfSpeed, Missed},
		{measure.ManyExtra, Echo},
		{measure.ManyBridged, Missed},
		{measure.RowFilled, Missed},
		{measure.StrayStamps, Stray},
		{measure.OpenGap, Breaks},
		{measure.WentSilent, Breaks},
		{measure.TooFast, Marks},
	} {
		if flags[f.code] {
			return f.fault
		}
	}
	return ""
}

// safe is the speed at which the latest echoes would begin to look like passes (measure
// drops what comes before 0.4 of a step; half of that leaves room), or at which a mark is
// seen too briefly, which is when it begins to be missed.
func (r Report) safe() float64 {
	out := float64(MostRPM)
	if r.EchoUS > 0 && r.Echoes > 0.001 {
		out = min(out, 0.2*60e6/(r.EchoUS*float64(r.Marks)))
	}
	if r.Misses > mostMisses/3 {
		out = min(out, r.RPM)
	}
	return math.Round(out/100) * 100
}
