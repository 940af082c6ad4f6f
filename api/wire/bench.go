package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/roller"
)

// ShowBench shows a bench with its settings.
func ShowBench(b day.Bench) gen.Bench {
	out := gen.Bench{
		Id: string(b.ID), Number: b.Number,
		CircumferenceMm: float64(b.CircumferenceUM) / 1e3, CircumferenceUMm: float64(b.UCircumUM) / 1e3,
		MarksPerTurn: b.Marks, StampUs: float64(b.StampNS) / 1e3, ClockPpm: float64(b.ClockPPB) / 1e3,
		Factor: 1 + float64(b.FactorPPM)/1e6, Edition: Opt(b.Edition()),
	}
	if r := b.Rolled; r != (roller.Rolled{}) {
		out.Rolled = &gen.RolledRoller{Turns: r.Turns, LengthMm: float64(r.LengthUM) / 1e3, WithinMm: float64(r.WithinUM) / 1e3}
	}
	if c := b.Caliper; c != (roller.Caliper{}) {
		out.Caliper = &gen.CaliperRoller{DiameterMm: float64(c.DiameterUM) / 1e3, WithinMm: float64(c.WithinUM) / 1e3}
	}
	return out
}

// ReadBench reads the settings of a bench; what is left out is usual.
func ReadBench(id string, b gen.BenchBody) day.Bench {
	out := day.Bench{
		ID: day.BenchID(id), Number: b.Number,
		CircumferenceUM: Rounded(b.CircumferenceMm * 1e3),
		UCircumUM:       Rounded(OrElse(b.CircumferenceUMm, 0.05) * 1e3),
		Marks:           OrElse(b.MarksPerTurn, 1),
		StampNS:         Rounded(OrElse(b.StampUs, 1) * 1e3),
		ClockPPB:        Rounded(OrElse(b.ClockPpm, 50) * 1e3),
		FactorPPM:       Rounded((OrElse(b.Factor, 1) - 1) * 1e6),
	}
	if r := b.Rolled; r != nil {
		out.Rolled = roller.Rolled{Turns: r.Turns, LengthUM: Rounded(r.LengthMm * 1e3), WithinUM: Rounded(r.WithinMm * 1e3)}
	}
	if c := b.Caliper; c != nil {
		out.Caliper = roller.Caliper{DiameterUM: Rounded(c.DiameterMm * 1e3), WithinUM: Rounded(c.WithinMm * 1e3)}
	}
	return out
}
