package view

import (
	"benchmeet/api/gen"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
)

// Runs are all runs, oldest first.
func (v MeetView) Runs() gen.RunList {
	out := gen.RunList{Seq: v.Head.Seq, Runs: []gen.Run{}}
	batteries := v.runBatteries()
	for _, r := range v.State.SortedRuns() {
		run := v.run(r)
		run.Battery = batteries[r.ID]
		out.Runs = append(out.Runs, run)
	}
	return out
}

func (v MeetView) run(r day.Run) gen.Run {
	return gen.Run{
		Id: string(r.ID), Bench: string(r.Bench), BenchNumber: opt(v.State.Benches[r.Bench].Number),
		Heat: opt(string(r.Heat)), Racer: v.optRacer(r.Entry), Source: word[gen.RunSource](r.Source),
		Waiting: optWord[gen.RunWaiting](r.Waiting), Void: opt(r.Void), Counts: opt(v.State.Counting(r)),
		At: instant(r.AtUS), Trace: opt(r.Trace), Figures: Figures(r.Figures),
	}
}

// Decisions are what somebody has to decide now, with what a comparison of the
// benches adds to the advice.
func (v MeetView) Decisions(nowUS int64, known board.Compared) gen.DecisionList {
	out := gen.DecisionList{Seq: v.Head.Seq, Decisions: []gen.Decision{}}
	for _, d := range board.DecisionsKnowing(v.State, nowUS, known) {
		line := gen.Decision{
			Kind: string(d.Kind), Since: optInstant(d.SinceUS), Division: opt(string(d.Division)),
			Heat: opt(string(d.Heat)), Racer: v.optRacer(d.Entry), Run: opt(string(d.Run)),
			Protest: opt(string(d.Protest)), Bench: opt(string(d.Bench)),
			Reason: opt(string(d.Reason)), By: opt(d.By),
			Incident:    optWord[gen.DecisionIncident](d.Incident),
			Consequence: optWord[gen.DecisionConsequence](d.Consequence),
			Suggest:     optWord[gen.DecisionSuggest](d.Suggest),
			Counts:      optWord[gen.DecisionCounts](d.Counts),
			AtLimit:     opt(d.AtLimit),
			Races:       opt(d.Races),
		}
		flags := d.Flags
		if r, there := v.State.Runs[d.Run]; there && len(flags) == 0 {
			flags = r.Figures.Flags
		}
		if len(flags) > 0 {
			shown := Flags(flags)
			line.Flags = &shown
		}
		if len(d.Few) > 0 {
			few := []gen.FewRuns{}
			for _, f := range d.Few {
				few = append(few, gen.FewRuns{Racer: v.Racer(f.Entry), Runs: f.Runs})
			}
			line.Few = &few
		}
		if len(d.Why) > 0 {
			why := Notes(d.Why)
			line.Why = &why
		}
		out.Decisions = append(out.Decisions, line)
	}
	return out
}
