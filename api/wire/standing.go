package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/programme"
)

// ShowTimedRuns shows the runs of a line of a table.
func ShowTimedRuns(runs []programme.TimedRun) []gen.StandingRun {
	out := []gen.StandingRun{}
	for _, r := range runs {
		run := gen.StandingRun{
			Round: r.Round, Heat: string(r.Heat), Run: Opt(string(r.Run)), Status: Opt(string(r.Status)), FarOff: Opt(r.FarOff),
			Corrections: ShowCorrections(r.Corrections),
		}
		if r.Valued {
			distance := Metres(r.DistanceUM)
			run.DistanceM, run.UDistanceM = &distance, Opt(Metres(r.UUM))
			run.DistanceLowM, run.DistanceHighM = ShowEnd(r.LowUM, 0), ShowEnd(r.HighUM, 0)
			run.AsReadM, run.Factor = Opt(Metres(r.AsReadUM)), Opt(PerMillion(r.FactorPPM))
			run.PenaltyM = Opt(Metres(r.PenaltyUM))
		}
		out = append(out, run)
	}
	return out
}

// ShowStandingStage shows what an entry did in a stage before the one of its line.
func ShowStandingStage(line programme.Standing) gen.StandingStage {
	return gen.StandingStage{
		Stage: line.Stage, Rank: line.Rank, Exit: Opt(line.Exit), PlateRank: Opt(line.PlateRank),
		DistanceM: Opt(Metres(line.DistanceUM)), UDistanceM: Opt(Metres(line.UUM)),
		Group: Opt(line.Group), GroupPlace: Opt(line.GroupPlace), Points: line.Points, PointsOver: Opt(line.PointsOver),
		Runs: ShowTimedRuns(line.Runs),
	}
}

// ShowCorrections shows numbered corrections; nil for none.
func ShowCorrections(list []programme.Correction) *[]gen.NumberedCorrection {
	if len(list) == 0 {
		return nil
	}
	out := make([]gen.NumberedCorrection, len(list))
	for i, c := range list {
		out[i] = gen.NumberedCorrection{Number: c.Number, At: Instant(c.AtUS)}
	}
	return &out
}
