package wire

import (
	"benchmeet/api/gen"
	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// ShowStage shows the settings of a stage.
func ShowStage(st day.Stage) gen.StageBody {
	out := gen.StageBody{
		Kind: Word[gen.StageBodyKind](st.Kind), RaceS: Seconds(st.RaceUS), Lanes: st.Lanes,
		Rounds: Opt(st.Rounds), Rule: OptWord[gen.StageBodyRule](st.Rule), Entries: Opt(st.Entries),
		ThirdPlace: Opt(st.ThirdPlace), Late: OptWord[gen.StageBodyLate](st.Late), SeparateClubs: Opt(st.SeparateClubs),
		Seeding: OptWord[gen.StageBodySeeding](st.Seeding), Seeds: Opt(st.Seeds), Groups: Opt(st.Groups), Cycles: Opt(st.Cycles),
	}
	forms(st, &out)
	if p := st.Points; p != nil {
		out.Points = &gen.HeatPoints{Win: p.Win, Draw: p.Draw, Loss: p.Loss}
	}
	if len(st.TieBreaks) > 0 {
		out.TieBreaks = &st.TieBreaks
	}
	return out
}

// forms adds what only some forms of competition have.
func forms(st day.Stage, out *gen.StageBody) {
	out.Heats, out.HeatOrder = Opt(st.Heats), OptWord[gen.StageBodyHeatOrder](st.HeatOrder)
	out.Advance, out.NextBest, out.BFinal = Opt(st.Advance), Opt(st.NextBest), Opt(st.BFinal)
	if len(st.PlacePoints) > 0 {
		out.PlacePoints = &st.PlacePoints
	}
	out.LaneDesign, out.Plate, out.Legs = Opt(st.LaneDesign), Opt(st.Plate), Opt(st.Legs)
}

// ReadStage reads the settings of a stage.
func ReadStage(b gen.StageBody) day.Stage {
	out := day.Stage{
		Kind: day.StageKind(b.Kind), Rounds: Deref(b.Rounds), RaceUS: Microseconds(b.RaceS), Lanes: b.Lanes,
		Rule: day.TimedRule(Deref(b.Rule)), Entries: Deref(b.Entries), ThirdPlace: Deref(b.ThirdPlace), Late: day.LateRule(Deref(b.Late)), SeparateClubs: Deref(b.SeparateClubs),
		Seeding: day.SeedMethod(Deref(b.Seeding)), Seeds: Deref(b.Seeds),
		Groups: Deref(b.Groups), Cycles: Deref(b.Cycles), TieBreaks: Deref(b.TieBreaks),
		Heats: Deref(b.Heats), HeatOrder: bracket.HeatOrder(Deref(b.HeatOrder)), Advance: Deref(b.Advance),
		NextBest: Deref(b.NextBest), BFinal: Deref(b.BFinal),
	}
	out.LaneDesign, out.Plate, out.Legs = Deref(b.LaneDesign), Deref(b.Plate), Deref(b.Legs)
	out.PlacePoints = Deref(b.PlacePoints)
	if p := b.Points; p != nil {
		out.Points = &day.HeatPoints{Win: p.Win, Draw: p.Draw, Loss: p.Loss}
	}
	return out
}
