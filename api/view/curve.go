package view

import (
	"cmp"
	"math"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
)

// beside is how long before and after a run its curve is shown, in s.
const beside = 2

// Curve is a run with its speed over time; without stamps (nil) its figures alone.
func (v MeetView) Curve(r day.Run, again *evidence.Curve) gen.RunCurve {
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
	out.SettingsChanged = wire.Opt(again.SettingsChanged(r.Figures))
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

func conditions(again *evidence.Curve) *gen.RunConditions {
	s := again.Setup
	out := gen.RunConditions{
		CircumferenceMm: s.Bench.CircumferenceMM, UCircumferenceMm: s.Bench.CircumferenceUncertaintyMM,
		MarksPerTurn: max(1, s.Bench.MarksPerTurn), Factor: s.Bench.Factor, ClockPpm: s.Bench.ClockPPM,
		LapM: s.Race.LapM, WheelMm: wire.Opt(s.Car.WheelDiameterMM), StartSource: wire.Opt(string(again.StartSource)),
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
	if tau, known := c.Rise(); known {
		out.TauS = &tau
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

// Difference compares two runs. Without stamps (nil) a run's figures stand alone.
func (v MeetView) Difference(r, from day.Run, again, fromAgain *evidence.Curve) gen.RunDifference {
	d := evidence.Compare(v.State, r, from, again, fromAgain)
	out := gen.RunDifference{
		Run: v.run(r), From: v.run(from), SameBench: d.SameBench, SameCar: d.SameCar, Corrected: wire.Opt(d.Corrected),
		DistanceM: wire.ShowApart(d.Distance), MeanSpeedMps: wire.ShowApart(d.MeanSpeed),
	}
	if d.Slowing != nil {
		slowing := wire.ShowApart(*d.Slowing)
		out.Slowing = &slowing
	}
	return out
}

// rounded keeps the digits that a screen may show.
func rounded(v, perUnit float64) float64 { return math.Round(v*perUnit) / perUnit }
