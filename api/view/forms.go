package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// laneDesigns are the reports on the stages whose lanes were shared out.
func (v MeetView) laneDesigns(d day.DivisionID) *[]gen.LaneDesign {
	var out []gen.LaneDesign
	for _, r := range programme.LaneDesigns(v.State, d) {
		report := gen.LaneDesign{
			Stage: r.Stage, Kind: wire.Word[gen.LaneDesignKind](r.Kind), Entries: r.Entries, Lanes: r.Lanes, Heats: r.Heats,
			RunsLeast: r.RunsLeast, RunsMost: r.RunsMost, MeetingsLeast: r.MeetsLeast, MeetingsMost: r.MeetsMost,
			LaneLeast: r.LaneLeast, LaneMost: r.LaneMost, BenchLeast: r.BenchLeast, BenchMost: r.BenchMost, Fits: wire.Opt(r.Fits),
		}
		if r.EfficiencyDen > 0 {
			efficiency := float64(r.EfficiencyNum) / float64(r.EfficiencyDen)
			report.Efficiency = &efficiency
		}
		out = append(out, report)
	}
	if len(out) == 0 {
		return nil
	}
	return &out
}

// sureRuns says how often everybody of a division races at least.
func (v MeetView) sureRuns(d day.DivisionID) *gen.SureRuns {
	sure, known := programme.SureRunsNow(v.State, d)
	if !known {
		return nil
	}
	out := gen.SureRuns{Entries: sure.Entries, Runs: sure.Runs, Stages: []gen.SureStage{}}
	for _, st := range sure.Stages {
		out.Stages = append(out.Stages, gen.SureStage{
			Stage: st.Stage, Entries: st.Entries, Runs: st.Runs, Says: wire.Opt(st.Says), Code: wire.Opt(st.Code), Fits: wire.Opt(st.Fits),
		})
	}
	return &out
}

// part says where a round stands in the draw of its stage.
func (v MeetView) part(d day.DivisionID, stage, round int) (part *gen.RoundPart, left, number *int) {
	of := programme.PartOf(v.State, d, stage, round)
	return wire.OptWord[gen.RoundPart](of.Part), wire.Opt(of.Left), wire.Opt(of.Number)
}
