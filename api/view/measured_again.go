package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// MeasuredAgain shows, of runs that were measured again, those that would change.
func MeasuredAgain(v MeetView, again []meet.Remeasured) gen.MeasuredAgain {
	out := gen.MeasuredAgain{Seq: v.Head.Seq, LookedAt: len(again), Runs: []gen.RunAgain{}}
	for _, a := range again {
		r := v.State.Runs[a.Run]
		if measure.Differ(r.Figures, a.Figures) == "" {
			continue
		}
		out.Runs = append(out.Runs, gen.RunAgain{
			Run: string(r.ID), Heat: wire.Opt(string(r.Heat)), Racer: v.optRacer(r.Entry), Counts: wire.Opt(v.State.Counting(r)),
			Was: wire.ShowFigures(r.Figures), WouldBe: wire.ShowFigures(a.Figures),
		})
	}
	return out
}
