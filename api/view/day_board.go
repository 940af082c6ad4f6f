package view

import (
	"cmp"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
)

// putSlots puts in what the day board needs beside the order of the calls: until when each
// heat likely has which benches, what it waits for, and the heats that are not drawn yet.
func putSlots(s *day.State, out *gen.DayPlan, rest dayplan.Rest, plan dayplan.Plan) {
	at := map[day.HeatID]int{}
	toCome := []gen.PlanToCome{}
	for i, h := range rest.Heats {
		slot := plan.Heats[i]
		switch {
		case h.Drawn:
			at[h.ID] = i
		case slot.EndUS > 0:
			round := rest.Rounds[h.Round]
			toCome = append(toCome, gen.PlanToCome{
				Division: string(round.Division), Stage: round.Stage, Round: round.Number, Number: h.Number, Leg: wire.Opt(h.Leg),
				Likely: wire.Instant(toSecond(slot.CallUS)), Until: wire.Instant(toSecond(slot.EndUS)), Benches: benchNames(slot.Benches),
			})
		}
	}
	slices.SortStableFunc(toCome, func(a, b gen.PlanToCome) int { return cmp.Compare(a.Likely.UnixMicro(), b.Likely.UnixMicro()) })
	out.ToCome = &toCome
	for i := range out.Heats {
		h := &out.Heats[i]
		k := at[day.HeatID(h.Heat)]
		slot := plan.Heats[k]
		if slot.EndUS == 0 {
			continue
		}
		h.Until = wire.OptInstant(toSecond(slot.EndUS))
		on := benchNames(slot.Benches)
		h.LikelyOn = &on
		if rest.Heats[k].Waits() && slot.Why.Code != dayplan.CauseNothing {
			h.WaitsFor = waitsFor(s, rest, slot.Why)
		}
	}
}

func benchNames(ids []day.BenchID) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = string(id)
	}
	return out
}
