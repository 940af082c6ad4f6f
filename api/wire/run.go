package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowRun shows a run by itself: the plate of its bench, who drove and whether it
// counts are the meet's to say.
func ShowRun(r day.Run) gen.Run {
	return gen.Run{
		Id: string(r.ID), Bench: string(r.Bench), Heat: Opt(string(r.Heat)), Source: Word[gen.RunSource](r.Source),
		Waiting: OptWord[gen.RunWaiting](r.Waiting), Void: Opt(r.Void),
		At: Instant(r.AtUS), Trace: Opt(r.Trace), Figures: ShowFigures(r.Figures), Before: showBefore(r.Before),
	}
}

// showBefore shows the counts by hand that were corrected; nil where none was.
func showBefore(all []day.CountBefore) *[]gen.CountBefore {
	if len(all) == 0 {
		return nil
	}
	out := []gen.CountBefore{}
	for _, b := range all {
		out = append(out, gen.CountBefore{
			DistanceM: Metres(b.DistanceUM), UDistanceM: Metres(b.UDistanceUM), Until: Instant(b.UntilUS), Ruling: b.Ruling,
		})
	}
	return &out
}
