package view

import (
	"cmp"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme"
)

// Hours are the instants at which a hall opens and closes, and by which the last race is to
// be over, in µs; 0 where the plan does not say. A plan without a time zone is meant in that
// of the server.
func Hours(p day.Plan) (opensUS, closesUS, lastRaceUS int64) {
	zone := zoneOf(p)
	at := func(hour string) int64 {
		t, err := time.ParseInLocation("2006-01-02 15:04", p.Date+" "+hour, zone)
		if err != nil {
			return 0
		}
		return t.UnixMicro()
	}
	opensUS, closesUS = at(p.Opens), at(p.Closes)
	if closesUS > 0 {
		lastRaceUS = closesUS - int64(p.PackingMin+p.PrizesMin)*60_000_000
	}
	return opensUS, closesUS, lastRaceUS
}

// zoneOf is the time zone that the hours of a plan are meant in.
func zoneOf(p day.Plan) *time.Location {
	if p.TimeZone != "" {
		if known, err := time.LoadLocation(p.TimeZone); err == nil {
			return known
		}
	}
	return time.Local
}

// DayPlan is the plan of the day as everybody may see it: of the instant of the last event,
// in whole five minutes.
func DayPlan(v MeetView) gen.DayPlan {
	rest := restOfDay(v, v.State.TimeUS)
	return dayPlan(v, rest, dayplan.Order(rest, dayplan.Seen(v.State)), dayplan.ToldAbout)
}

func restOfDay(v MeetView, nowUS int64) dayplan.Rest {
	opens, _, _ := Hours(v.State.Plan)
	return dayplan.RestOf(v.State, nowUS, opens)
}

// OfficialDayPlan is the plan of an instant as officials see it, to the second.
func OfficialDayPlan(v MeetView, nowUS int64) gen.DayPlan {
	return exactDayPlan(v, restOfDay(v, nowUS))
}

func toSecond(us int64) int64 { return us - us%1_000_000 }

func exactDayPlan(v MeetView, rest dayplan.Rest) gen.DayPlan {
	p := dayplan.Seen(v.State)
	plan := dayplan.Order(rest, p)
	out := dayPlan(v, rest, plan, toSecond)
	putSlots(v.State, &out, rest, plan)
	putBegun(v.State, &out)
	if out.Told != nil {
		out.Told.By = wire.Opt(v.State.Told.By)
	}
	_, _, lastRace := Hours(v.State.Plan)
	if out.Finish != nil {
		putForecast(v, &out, dayplan.Likely(rest, p, dayplan.Samples, uint64(v.State.Seq)), rest, lastRace)
	}
	out.Pace = &gen.DayPace{
		CallS: wire.Seconds(p.CallUS), PostS: wire.Seconds(p.PostUS), ChangeoverS: wire.Seconds(p.ChangeUS), DrawS: wire.Seconds(p.DrawUS),
		FromHeats: p.Heats, Adults: wire.Opt(v.State.AdultsNow()), Crowd: &p.Crowd,
	}
	return out
}

// putForecast puts in how sure the plan is.
func putForecast(v MeetView, out *gen.DayPlan, f dayplan.Forecast, rest dayplan.Rest, lastRaceUS int64) {
	out.Forecast = &gen.DayForecast{
		P10: wire.Instant(f.At(10)), P50: wire.Instant(f.At(50)), P80: wire.Instant(f.At(80)), P90: wire.Instant(f.At(90)),
		Samples: len(f.Finish),
	}
	if lastRaceUS > 0 {
		chance := f.LateChance(lastRaceUS)
		out.Forecast.LateChance = &chance
	}
	at := map[string]int{}
	for i, r := range rest.Rounds {
		at[r.Division.Round(r.Stage, r.Number)] = i
	}
	for i := range out.Rounds {
		r := &out.Rounds[i]
		k := at[day.DivisionID(r.Division).Round(r.Stage, r.Round)]
		r.P10, r.P90 = wire.OptInstant(f.StartAt(k, 10)), wire.OptInstant(f.StartAt(k, 90))
	}
}

func dayPlan(v MeetView, rest dayplan.Rest, plan dayplan.Plan, round func(us int64) int64) gen.DayPlan {
	s := v.State
	nowUS := rest.AtUS
	_, closes, lastRace := Hours(s.Plan)
	out := gen.DayPlan{
		Seq: v.Head.Seq, At: wire.Instant(nowUS), Closes: wire.OptInstant(closes), LastRaceBy: wire.OptInstant(lastRace),
		Rounds: []gen.PlanRound{}, Heats: []gen.PlanHeat{}, HoldsUp: holdsUp(v, rest, plan.HoldsUp),
	}
	if plan.FinishUS > nowUS {
		out.Finish = wire.OptInstant(round(plan.FinishUS))
	}
	if t := s.Told; t != nil {
		out.Told = &gen.ToldTimes{At: wire.Instant(t.AtUS), Finish: wire.OptInstant(t.FinishUS), Reason: wire.Opt(string(t.Reason))}
	}
	if tasks := Tasks(s.Plan); len(tasks) > 0 {
		out.Tasks = &tasks
	}
	for i, r := range rest.Rounds {
		out.Rounds = append(out.Rounds, planRound(s, r, plan.Rounds[i], round))
	}
	slices.SortStableFunc(out.Rounds, func(a, b gen.PlanRound) int {
		return cmp.Compare(wire.Deref(a.Likely).UnixMicro(), wire.Deref(b.Likely).UnixMicro())
	})
	for _, i := range inTurn(rest, plan) {
		out.Heats = append(out.Heats, planHeat(v, rest.Heats[i], plan.Heats[i], round))
	}
	return out
}

// inTurn are the drawn heats as they are likely called. Heats that are not planned, because
// no bench is in service, come last.
func inTurn(rest dayplan.Rest, plan dayplan.Plan) []int {
	var out []int
	for i, h := range rest.Heats {
		if h.Drawn {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := plan.Heats[a], plan.Heats[b]
		return cmp.Or(
			programme.CompareBool(x.EndUS == 0, y.EndUS == 0), programme.CompareBool(rest.Heats[a].Waits(), rest.Heats[b].Waits()),
			cmp.Compare(x.Ahead, y.Ahead), cmp.Compare(x.CallUS, y.CallUS),
		)
	})
	return out
}

func planRound(s *day.State, r dayplan.Round, span dayplan.Span, round func(int64) int64) gen.PlanRound {
	out := gen.PlanRound{
		Division: string(r.Division), Stage: r.Stage, Round: r.Number, Drawn: r.Drawn, Possible: r.Possible, Heats: len(r.Heats),
	}
	if !r.Drawn {
		told := s.RoundPromise(r.Division, r.Stage, r.Number)
		out.NotBefore, out.Was = wire.OptInstant(told.NotBeforeUS), wire.OptInstant(told.WasUS)
	}
	if span.StartUS > 0 {
		out.Likely = wire.OptInstant(max(round(span.StartUS), wire.Deref(out.NotBefore).UnixMicro()))
		out.Until = wire.OptInstant(round(span.EndUS))
	}
	return out
}

func planHeat(v MeetView, h dayplan.Heat, slot dayplan.Slot, round func(int64) int64) gen.PlanHeat {
	s := v.State
	of := s.Heats[h.ID]
	out := gen.PlanHeat{
		Heat: string(h.ID), Division: string(of.Division), Stage: of.Stage, Round: of.Round, Number: of.Number, Leg: wire.Opt(of.Leg),
		Group: wire.Opt(of.Group), Phase: wire.Word[gen.PlanHeatPhase](of.Phase), Benches: []string{}, Ahead: slot.Ahead, Cars: []gen.Racer{},
		HeldUntil: wire.OptInstant(s.Held[h.ID]),
	}
	likely := round(slot.CallUS)
	if h.Waits() {
		told := s.HeatPromise(of)
		out.NotBefore, out.Was = wire.OptInstant(told.NotBeforeUS), wire.OptInstant(told.WasUS)
		likely = max(likely, told.NotBeforeUS)
		out.Benches = plannedBenches(s, of)
	} else {
		likely = slot.CallUS
		for _, b := range h.On {
			out.Benches = append(out.Benches, string(b))
		}
	}
	if slot.EndUS > 0 {
		out.Likely = wire.OptInstant(likely)
	}
	for _, id := range h.Entries {
		out.Cars = append(out.Cars, v.Racer(id))
	}
	return out
}

// plannedBenches are those that the draw has planned for the cars that are still to race,
// where it has planned all of them and all are in service.
func plannedBenches(s *day.State, h day.Heat) []string {
	out := []string{}
	for _, i := range programme.LanesToRace(s, h) {
		b, there := s.Benches[programme.PlannedBench(s, h, i)]
		if !there || b.OutOfService {
			return []string{}
		}
		out = append(out, string(b.ID))
	}
	return out
}

func holdsUp(v MeetView, rest dayplan.Rest, c dayplan.Cause) *gen.HoldsUp {
	if c.Code == dayplan.CauseNothing {
		return nil
	}
	const minuteUS = 60_000_000
	out := gen.HoldsUp{Code: wire.Word[gen.HoldsUpCode](c.Code), Minutes: int((c.ForUS + minuteUS/2) / minuteUS)}
	switch c.Code {
	case dayplan.CauseBenches:
		out.Benches = wire.Opt(len(rest.Benches))
	case dayplan.CauseCar:
		out.Number = wire.Opt(v.State.Number(c.Entry))
	case dayplan.CauseRound:
		out.Division = wire.Opt(string(rest.Rounds[c.Round].Division))
	case dayplan.CauseLeg:
		out.Division = wire.Opt(string(rest.Rounds[rest.Heats[c.Heat].Round].Division))
	case dayplan.CauseTask:
		out.Task = wire.Opt(string(c.Task))
	}
	return &out
}
