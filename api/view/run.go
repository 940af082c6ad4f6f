package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
)

// Runs are all runs, oldest first.
func (v MeetView) Runs() gen.RunList {
	out := gen.RunList{Seq: v.Head.Seq, Runs: []gen.Run{}}
	batteries := RunBatteries(v.State)
	for _, r := range v.State.SortedRuns() {
		out.Runs = append(out.Runs, v.Run(r, batteries[r.ID]))
	}
	return out
}

// Run is a run with the battery that it was made with, if that is known.
func (v MeetView) Run(r day.Run, battery *gen.RunBattery) gen.Run {
	out := v.run(r)
	out.Battery = battery
	return out
}

// Decisions are what somebody has to decide now, with what a comparison of the
// benches adds to the advice.
func (v MeetView) Decisions(nowUS int64, known board.Compared) gen.DecisionList {
	out := gen.DecisionList{Seq: v.Head.Seq, Decisions: []gen.Decision{}}
	for _, d := range board.TasksKnowing(v.State, nowUS, known) {
		line := gen.Decision{
			Kind: string(d.Kind), Since: wire.OptInstant(d.SinceUS), Division: wire.Opt(string(d.Division)),
			Heat: wire.Opt(string(d.Heat)), Racer: v.optRacer(d.Entry), Run: wire.Opt(string(d.Run)),
			Protest: wire.Opt(string(d.Protest)), Bench: wire.Opt(string(d.Bench)),
			Reason: wire.Opt(string(d.Reason)), By: wire.Opt(d.By),
			Incident:    wire.OptWord[gen.DecisionIncident](d.Incident),
			Consequence: wire.OptWord[gen.DecisionConsequence](d.Consequence),
			Suggest:     wire.OptWord[gen.DecisionSuggest](d.Suggest),
			Counts:      wire.OptWord[gen.DecisionCounts](d.Counts),
			AtLimit:     wire.Opt(d.AtLimit),
			Races:       wire.Opt(d.Races),
			Stage:       wire.Opt(d.Stage), Round: wire.Opt(d.Round),
			Cars: wire.Opt(d.Lanes), BenchesLeft: wire.Opt(d.Benches), Redraw: wire.Opt(d.Redraw),
			AheadS: wire.Opt(int(d.AheadUS / 1_000_000)),
		}
		flags := d.Flags
		if r, there := v.State.Runs[d.Run]; there && len(flags) == 0 {
			flags = r.Figures.Flags
		}
		if len(flags) > 0 {
			shown := wire.ShowFlags(flags)
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
			why := wire.ShowNotes(d.Why)
			line.Why = &why
		}
		out.Decisions = append(out.Decisions, line)
	}
	return out
}

func (v MeetView) run(r day.Run) gen.Run {
	out := wire.ShowRun(r)
	out.BenchNumber, out.Racer = wire.Opt(v.State.Benches[r.Bench].Number), v.optRacer(r.Entry)
	out.Counts = wire.Opt(v.State.Counting(r))
	return out
}
