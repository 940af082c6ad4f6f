package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/refusal"
)

// RehearsedDay is the day as planned, or what is left of it, played with what usually goes
// wrong; refused where nothing is planned that could be raced.
func RehearsedDay(v MeetView, nowUS int64) (gen.RehearsedDay, error) {
	opens, _, lastRace := Hours(v.State.Plan)
	r := dayplan.Rehearse(v.State, nowUS, opens)
	if r.FinishUS <= nowUS {
		return gen.RehearsedDay{}, refusal.New("rehearse-nothing")
	}
	out := gen.RehearsedDay{
		Seq: v.Head.Seq, Planned: wire.Instant(toSecond(r.PlannedUS)), Finish: wire.Instant(toSecond(r.FinishUS)),
		P90: wire.Instant(toSecond(r.Forecast.At(90))), LastRaceBy: wire.OptInstant(lastRace), Hitches: []gen.HitchCost{},
		Cars: wire.Opt(r.Cars), Inspected: wire.OptInstant(toSecond(r.InspectedUS)), Bench: wire.Opt(string(r.Bench)), Adults: wire.Opt(r.Adults),
		HoldsUp: holdsUp(v, r.Rest, r.HoldsUp),
	}
	const minuteUS = 60_000_000
	for _, h := range r.Hitches {
		out.Hitches = append(out.Hitches, gen.HitchCost{
			Code: wire.Word[gen.HitchCostCode](h.Hitch), AloneMin: int(h.AloneUS / minuteUS), SparesMin: int(h.SparesUS / minuteUS),
		})
	}
	if r.Weak != "" {
		out.Weak = wire.Opt(wire.Word[gen.RehearsedDayWeak](r.Weak))
	}
	return out, nil
}
