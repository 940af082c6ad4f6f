package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// MeasuredAgain shows, of runs that were measured again, those that would change.
func (v MeetView) MeasuredAgain(again []meet.Remeasured) gen.MeasuredAgain {
	out := gen.MeasuredAgain{Seq: v.Head.Seq, LookedAt: len(again), Runs: []gen.RunAgain{}}
	for _, a := range again {
		r := v.State.Runs[a.Run]
		if measure.Differ(r.Figures, a.Figures) == "" {
			continue
		}
		out.Runs = append(out.Runs, gen.RunAgain{
			Run: string(r.ID), Heat: opt(string(r.Heat)), Racer: v.optRacer(r.Entry), Counts: opt(v.State.Counting(r)),
			Was: Figures(r.Figures), WouldBe: Figures(a.Figures),
		})
	}
	return out
}
