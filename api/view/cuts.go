package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/dayplan"
)

// Cuts is what can be left out of the rest of the day.
func Cuts(v MeetView, nowUS int64) gen.CutList {
	opens, _, lastRace := Hours(v.State.Plan)
	out := gen.CutList{Seq: v.Head.Seq, At: wire.Instant(nowUS), LastRaceBy: wire.OptInstant(lastRace), Cuts: []gen.DayCut{}}
	cuts, stands := dayplan.Cuts(v.State, nowUS, opens)
	if stands.FinishUS > nowUS {
		out.Finish = wire.OptInstant(toSecond(stands.FinishUS))
	}
	for _, c := range cuts {
		cut := gen.DayCut{
			Code: wire.Word[gen.DayCutCode](c.Code), Division: string(c.Division), Stage: c.Stage, Finish: wire.Instant(toSecond(c.FinishUS)),
			SavesS: c.SavesUS / 1_000_000, FairUntil: wire.OptInstant(toSecond(c.ByUS)), Now: c.Now,
		}
		if c.RunsBefore > 0 {
			cut.Entries, cut.RunsBefore, cut.RunsAfter = &c.Entries, &c.RunsBefore, &c.RunsAfter
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
	return out
}
