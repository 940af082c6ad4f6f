package view

import (
	"cmp"
	"math"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// Remeasured is a run that was measured again from its stamps.
type Remeasured struct {
	evidence.Curve
	StartSource string
}

// beside is how long before and after a run its curve is shown, in s.
const beside = 2

// Curve is a run with its speed over time; without stamps (nil) its figures alone.
func (v MeetView) Curve(r day.Run, again *Remeasured) gen.RunCurve {
	out := gen.RunCurve{Seq: v.Head.Seq, Run: v.run(r), Samples: []gen.SpeedSample{}, Corrections: []gen.Correction{}}
	if _, there := v.State.Heats[r.Heat]; there {
		heat := v.Heat(r.Heat)
		out.Heat = &heat
	}
	if again == nil {
		return out
	}
	m := again.Measured
	since := func(us int64) float64 { return wire.Seconds(us - m.FromUS) }
	until := since(m.ToUS)
	zero := 0.0
	out.FromS, out.ToS, out.EveryS = &zero, &until, wire.Seconds(again.EveryUS)
	out.Conditions = conditions(again)
	// Processors may round the last digit to the other side.
	apart := m.Figures().DistanceUM - r.Figures.DistanceUM
	out.SettingsChanged = wire.Opt(apart > 1 || apart < -1)
	for _, s := range again.Samples {
		if at := since(s.AtUS); at >= -beside && at <= until+beside {
			out.Samples = append(out.Samples, gen.SpeedSample{AtS: at, SpeedMps: rounded(s.SpeedMPS, 1e6), Rpm: rounded(s.RPM, 1e3)})
		}
	}
	for _, c := range m.Corrections {
		out.Corrections = append(out.Corrections, gen.Correction{AtS: since(c.AtUS), Kind: wire.Word[gen.CorrectionKind](c.Kind)})
	}
	out.Start, out.End = edge(m.Start), edge(m.End)
	causes := []gen.UncertaintyCause{}
	for _, p := range m.Distance.Parts {
		causes = append(causes, gen.UncertaintyCause{Cause: p.Cause, UM: p.U})
	}
	slices.SortStableFunc(causes, func(a, b gen.UncertaintyCause) int { return cmp.Compare(b.UM, a.UM) })
	out.Causes = &causes
	course := again.Course()
	out.FullSpeed, out.Slowing = fullSpeed(course), slowing(course)
	return out
}

func conditions(again *Remeasured) *gen.RunConditions {
	s := again.Setup
	out := gen.RunConditions{
		CircumferenceMm: s.Bench.CircumferenceMM, UCircumferenceMm: s.Bench.CircumferenceUncertaintyMM,
		MarksPerTurn: max(1, s.Bench.MarksPerTurn), Factor: s.Bench.Factor, ClockPpm: s.Bench.ClockPPM,
		LapM: s.Race.LapM, WheelMm: wire.Opt(s.Car.WheelDiameterMM), StartSource: wire.Opt(again.StartSource),
		RaceS: s.Race.DurationS,
	}
	if s.Race.StartUS != nil {
		out.StartDelayS = wire.Opt(s.Race.StartDelayUS / 1e6)
	}
	return &out
}

func edge(e measure.Edge) *gen.RunEdge {
	if e.How == "" {
		return nil
	}
	return &gen.RunEdge{Turns: rounded(e.Turns, 1e6), How: wire.Word[gen.RunEdgeHow](e.How)}
}

func fullSpeed(c evidence.Course) *gen.FullSpeed {
	if !c.Rose {
		return nil
	}
	out := gen.FullSpeed{SpeedMps: c.Full.Speed, AtS: c.Full.At}
	// The rise alone is of the first order; what comes after is the battery's.
	to, _ := slices.BinarySearch(c.Times, 1.5*c.Full.At)
	if fit, err := measure.FitSpinUp(c.Times[:to], c.Speeds[:to]); err == nil {
		out.TauS = &fit.Tau
	}
	return &out
}

func slowing(c evidence.Course) *gen.Slowing {
	s, known := c.Lost()
	if !known {
		return nil
	}
	return &gen.Slowing{Lost: s.Lost, ULost: s.U}
}

// told is the confidence at which a difference counts as told, that of the standings.
const told = 0.95

// Difference compares two runs. Without stamps (nil) a run's figures stand alone.
func (v MeetView) Difference(r, from day.Run, again, fromAgain *Remeasured) gen.RunDifference {
	same := r.Bench == from.Bench
	out := gen.RunDifference{
		Run: v.run(r), From: v.run(from), SameBench: same,
		SameCar: r.Entry != "" && from.Entry != "" && v.State.Entries[r.Entry].Car == v.State.Entries[from.Entry].Car,
	}
	x, xFactor := v.corrected(r, measured(r, again))
	y, yFactor := v.corrected(from, measured(from, fromAgain))
	out.Corrected = wire.Opt(xFactor || yFactor)
	out.DistanceM = difference(measure.DistanceDifference(x, y, same))
	out.MeanSpeedMps = difference(measure.SpeedDifference(x, y, same))
	if again == nil || fromAgain == nil {
		return out
	}
	loss, lossKnown := again.Course().Lost()
	other, otherKnown := fromAgain.Course().Lost()
	if lossKnown && otherKnown {
		d := difference(loss.Lost-other.Lost, measure.Uncertainty{Standard: math.Hypot(loss.U, other.U), Degrees: math.Inf(1)})
		out.Slowing = &d
	}
	return out
}

// measured is the measurement of a run, or what its figures tell of one.
func measured(r day.Run, again *Remeasured) measure.Measurement {
	if again != nil {
		return again.Measured
	}
	f := r.Figures
	return measure.Measurement{
		DistanceM: wire.Metres(f.DistanceUM), MeanSpeedMPS: wire.Metres(f.MeanUMPS),
		Distance: measure.Combine([]measure.Part{{Cause: "count", Shape: measure.Normal, U: wire.Metres(f.UDistanceUM)}}),
	}
}

// corrected divides a measurement by the factor of its bench where one is in force,
// as the run's result is, and says whether there was one.
func (v MeetView) corrected(r day.Run, m measure.Measurement) (measure.Measurement, bool) {
	value := v.State.Value(r)
	if value.Set == 0 {
		return m, false
	}
	factor := float64(value.Factor.FactorPPM) / 1e6
	m.DistanceM /= factor
	m.MeanSpeedMPS /= factor
	parts := []measure.Part{{Cause: "factor", Shape: measure.Normal, U: m.DistanceM * float64(value.Factor.UPPM) / 1e6, Degrees: float64(value.Factor.Degrees)}}
	for _, p := range m.Distance.Parts {
		p.U /= factor
		parts = append(parts, p)
	}
	m.Distance = measure.Combine(parts)
	return m, true
}

func difference(value float64, u measure.Uncertainty) gen.Difference {
	e := fairness.Estimate{Value: value, U: u.Standard}
	if !math.IsInf(u.Degrees, 0) {
		e.Degrees = u.Degrees
	}
	return gen.Difference{Value: value, U: u.Standard, TooClose: value == 0 || e.TooClose(told)}
}

// rounded keeps the digits that a screen may show.
func rounded(v, perUnit float64) float64 { return math.Round(v*perUnit) / perUnit }
