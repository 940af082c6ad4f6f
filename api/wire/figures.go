package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/measure"
)

// ShowFigures shows a measurement.
func ShowFigures(f measure.Figures) gen.Figures {
	out := gen.Figures{
		Method:       f.Method,
		Turns:        PerMillion(f.TurnsE6),
		DistanceM:    Metres(f.DistanceUM),
		Laps:         f.Laps,
		TimeS:        Opt(Seconds(f.TimeUS)),
		MeanRpm:      Thousandths(f.MeanMRPM),
		MaxRpm:       Thousandths(f.MaxMRPM),
		MeanSpeedMps: Metres(f.MeanUMPS),
		MaxSpeedMps:  Metres(f.MaxUMPS),
		WheelMeanRpm: Opt(Thousandths(f.WheelMeanMRPM)),
		WheelMaxRpm:  Opt(Thousandths(f.WheelMaxMRPM)),
		Extra:        f.Extra,
		Bridged:      f.Bridged,
		Flags:        ShowFlags(f.Flags),
	}
	if low, high, there := f.Interval(); there {
		half := Metres(f.U95DistanceUM)
		out.U95DistanceM = &half
		if f.HighUM > 0 {
			from, to := Metres(low), Metres(high)
			out.DistanceLowM, out.DistanceHighM = &from, &to
		}
	}
	if !f.NoInterval {
		out.UDistanceM = Opt(Metres(f.UDistanceUM))
	}
	return out
}

// ShowFlags shows the flags of a measurement with their sentences.
func ShowFlags(flags []measure.Flag) []gen.Flag {
	out := []gen.Flag{}
	for _, f := range flags {
		flag := gen.Flag{Code: string(f.Code), Says: f.Says()}
		if len(f.Args) > 0 {
			flag.Args = &f.Args
		}
		out = append(out, flag)
	}
	return out
}

// ShowEnd shows an end of a 95 % interval, in µm, less a penalty; nil where there is
// none.
func ShowEnd(um *int64, penaltyUM int64) *float64 {
	if um == nil {
		return nil
	}
	m := Metres(max(0, *um-penaltyUM))
	return &m
}
