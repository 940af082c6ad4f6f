package view

import (
	"cmp"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
)

// Tasks are what a day has beside its races, the earliest first: those of the plan, then the
// prize-giving and packing before the hall closes.
func Tasks(p day.Plan) []gen.PlanTask {
	const minuteUS = 60_000_000
	opens, closes, _ := Hours(p)
	out := []gen.PlanTask{}
	put := func(kind gen.PlanTaskKind, fromUS, toUS int64, each int) {
		out = append(out, gen.PlanTask{Kind: kind, From: wire.Instant(fromUS), Until: wire.Instant(toUS), EachMin: wire.Opt(each)})
	}
	for _, t := range p.TimedTasks() {
		each := 0
		if !t.Common() {
			each = t.Minutes
		}
		put(wire.Word[gen.PlanTaskKind](t.Kind), opens+int64(t.FromMin)*minuteUS, opens+int64(t.UntilMin)*minuteUS, each)
	}
	if packing := closes - int64(p.PackingMin)*minuteUS; closes > 0 {
		if p.PrizesMin > 0 {
			put(gen.PlanTaskKindPrizes, packing-int64(p.PrizesMin)*minuteUS, packing, 0)
		}
		if p.PackingMin > 0 {
			put(gen.PlanTaskKindPacking, packing, closes, 0)
		}
	}
	slices.SortStableFunc(out, func(a, b gen.PlanTask) int { return cmp.Compare(a.From.UnixMicro(), b.From.UnixMicro()) })
	return out
}
