package view

import (
	"time"

	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"

	"benchmeet/api/gen"
)

func metres(um int64) float64    { return float64(um) / 1e6 }
func seconds(us int64) float64   { return float64(us) / 1e6 }
func perMillion(m int64) float64 { return float64(m) / 1e6 }
func perMinute(m int64) float64  { return float64(m) / 1e3 }

func instant(us int64) time.Time { return time.UnixMicro(us).UTC() }

// opt leaves a zero value out of the JSON.
func opt[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}

func optInstant(us int64) *time.Time {
	if us == 0 {
		return nil
	}
	t := instant(us)
	return &t
}

// word converts between the string types of the domain and of the contract.
func word[To, From ~string](v From) To { return To(v) }

func optWord[To, From ~string](v From) *To {
	if v == "" {
		return nil
	}
	w := To(v)
	return &w
}

// end is an end of a 95 % interval less a penalty, in metres, if there is one.
func end(um *int64, penaltyUM int64) *float64 {
	if um == nil {
		return nil
	}
	m := metres(max(0, *um-penaltyUM))
	return &m
}

// Figures are a measurement as the API shows it.
func Figures(f measure.Figures) gen.Figures {
	out := gen.Figures{
		Method:       f.Method,
		Turns:        metres(f.TurnsE6),
		DistanceM:    metres(f.DistanceUM),
		Laps:         f.Laps,
		TimeS:        opt(seconds(f.TimeUS)),
		MeanRpm:      perMinute(f.MeanMRPM),
		MaxRpm:       perMinute(f.MaxMRPM),
		MeanSpeedMps: metres(f.MeanUMPS),
		MaxSpeedMps:  metres(f.MaxUMPS),
		WheelMeanRpm: opt(perMinute(f.WheelMeanMRPM)),
		WheelMaxRpm:  opt(perMinute(f.WheelMaxMRPM)),
		Extra:        f.Extra,
		Bridged:      f.Bridged,
		Flags:        Flags(f.Flags),
	}
	if low, high, there := f.Interval(); there {
		half := metres(f.U95DistanceUM)
		out.U95DistanceM = &half
		if f.HighUM > 0 {
			from, to := metres(low), metres(high)
			out.DistanceLowM, out.DistanceHighM = &from, &to
		}
	}
	if !f.NoInterval {
		out.UDistanceM = opt(metres(f.UDistanceUM))
	}
	return out
}

// Flags are the flags of a measurement with their sentences.
func Flags(flags []measure.Flag) []gen.Flag {
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

// Notes are sentences of a report with their English.
func Notes(list []fairness.Note) []gen.Note {
	out := []gen.Note{}
	for _, n := range list {
		shown := gen.Note{Code: string(n.Code), Says: n.Says()}
		if len(n.Args) > 0 {
			args := make(map[string]string, len(n.Args))
			for _, a := range n.Args {
				args[a.Name] = a.Value
			}
			shown.Args = &args
		}
		out = append(out, shown)
	}
	return out
}
