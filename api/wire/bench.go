package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowBench shows a bench with its settings.
func ShowBench(b day.Bench) gen.Bench {
	return gen.Bench{
		Id: string(b.ID), Number: b.Number,
		CircumferenceMm: float64(b.CircumferenceUM) / 1e3, CircumferenceUMm: float64(b.UCircumUM) / 1e3,
		MarksPerTurn: b.Marks, StampUs: float64(b.StampNS) / 1e3, ClockPpm: float64(b.ClockPPB) / 1e3,
		Factor: 1 + float64(b.FactorPPM)/1e6, Edition: Opt(b.Edition()),
	}
}

// ReadBench reads the settings of a bench; what is left out is usual.
func ReadBench(id string, b gen.BenchBody) day.Bench {
	return day.Bench{
		ID: day.BenchID(id), Number: b.Number,
		CircumferenceUM: Rounded(b.CircumferenceMm * 1e3),
		UCircumUM:       Rounded(OrElse(b.CircumferenceUMm, 0.05) * 1e3),
		Marks:           OrElse(b.MarksPerTurn, 1),
		StampNS:         Rounded(OrElse(b.StampUs, 1) * 1e3),
		ClockPPB:        Rounded(OrElse(b.ClockPpm, 50) * 1e3),
		FactorPPM:       Rounded((OrElse(b.Factor, 1) - 1) * 1e6),
	}
}
