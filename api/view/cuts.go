package view

import (
	"cmp"
	"math"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/dayplan"
)

// Cuts is what can be left out of the rest of the day.
func Cuts(v MeetView, nowUS int64) gen.CutList {
	opens, _, lastRace := Hours(v.State.Plan)
	nowUS = dayplan.From(v.State, nowUS, opens)
	out := gen.CutList{Seq: v.Head.Seq, At: wire.Instant(nowUS), LastRaceBy: wire.OptInstant(lastRace), Cuts: []gen.DayCut{}}
	cuts, stands := dayplan.Cuts(v.State, nowUS, opens)
	if stands.FinishUS > nowUS {
		out.Finish = wire.OptInstant(toSecond(stands.FinishUS))
	}
	for _, c := range cuts {
		cut := gen.DayCut{
			Code: wire.Word[gen.CutCode](c.Code), Division: string(c.Division), Stage: c.Stage, Finish: wire.Instant(toSecond(c.FinishUS)),
			SavesS: c.SavesUS / 1_000_000, FairUntil: wire.OptInstant(toSecond(c.ByUS)), Now: c.Now,
		}
		if c.RunsBefore > 0 {
			cut.Entries, cut.RunsBefore, cut.RunsAfter = &c.Entries, &c.RunsBefore, &c.RunsAfter
		}
		if v.State.Cuts != nil {
			cut.Place = wire.Opt(c.OnList(v.State.Cuts.Cuts))
		}
		if c.Stages != nil {
			stages := []gen.StageBody{}
			for _, st := range c.Stages {
				stages = append(stages, wire.ShowStage(st))
			}
			cut.Stages = &stages
		}
		out.Cuts = append(out.Cuts, cut)
	}
	// What was printed comes first, in the order that was printed.
	slices.SortStableFunc(out.Cuts, func(a, b gen.DayCut) int { return cmp.Compare(printed(a), printed(b)) })
	if board.RulesFixed(v.State) {
		out.Fixed = wire.Opt(true)
	}
	return out
}

func printed(c gen.DayCut) int {
	if c.Place == nil {
		return math.MaxInt
	}
	return *c.Place
}
