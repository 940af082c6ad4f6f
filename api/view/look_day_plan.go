package view

import (
	"cmp"
	"slices"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
)

// LookDayPlan is what officials would see if the day were otherwise, with what moves in it
// and why; and, where that is asked for, in an order in which it ends earlier.
func LookDayPlan(v MeetView, nowUS int64, what dayplan.Supposed) (gen.DayPlan, error) {
	s, err := dayplan.Suppose(v.State, what)
	if err != nil {
		return gen.DayPlan{}, err
	}
	other := v
	other.State = s
	rest := restOfDay(other, nowUS).Paused(what.PauseUS)
	var better dayplan.Improved
	found := false
	if what.Improve {
		if better, found = dayplan.Improve(rest, dayplan.Seen(s), uint64(v.State.Seq)); found {
			rest = better.Rest
		}
	}
	out := exactDayPlan(other, rest)
	l := look{v: v, other: s, adults: s.AdultsNow() != v.State.AdultsNow(), was: restOfDay(v, nowUS), then: rest}
	if what.PauseUS > 0 {
		l.pausedUS = nowUS + what.PauseUS
	}
	moves := l.moves()
	out.Moves = &moves
	if found {
		order := make([]string, len(better.Order))
		for i, id := range better.Order {
			order[i] = string(id)
		}
		out.Order, out.SavesS = &order, wire.Opt(better.SavesUS/1_000_000)
	}
	return out, nil
}

// look is a day as it stands beside the same day otherwise. Nothing is called before
// pausedUS in that one.
type look struct {
	v MeetView
	// other is the state of that day; adults says that others run the benches in it.
	other     *day.State
	adults    bool
	was, then dayplan.Rest
	pausedUS  int64
}

// moves are the heats that are called five minutes or more earlier or later in the other
// day, the largest move first.
func (l look) moves() []gen.PlanMove {
	was, then := dayplan.Order(l.was, dayplan.Seen(l.v.State)), dayplan.Order(l.then, dayplan.Seen(l.other))
	at := map[day.HeatID]int{}
	for i, h := range l.was.Heats {
		at[h.ID] = i
	}
	out := []gen.PlanMove{}
	for _, i := range inTurn(l.then, then) {
		h := l.then.Heats[i]
		k, there := at[h.ID]
		if !there || !h.Waits() || then.Heats[i].EndUS == 0 || was.Heats[k].EndUS == 0 {
			continue
		}
		from, to := toSecond(was.Heats[k].CallUS), toSecond(then.Heats[i].CallUS)
		if max(to-from, from-to) < dayplan.ToldStepUS {
			continue
		}
		of := l.v.State.Heats[h.ID]
		m := gen.PlanMove{
			Heat: string(h.ID), Division: string(of.Division), Stage: of.Stage, Round: of.Round, From: wire.Instant(from), To: wire.Instant(to),
		}
		switch {
		case to > from && then.Heats[i].CallUS == l.pausedUS:
			m.Why = &gen.MoveWhy{Code: gen.MoveWhyCodePause}
		case to > from:
			m.Why = waitsFor(l.v.State, l.then, then.Heats[i].Why)
		default:
			m.Why = waitsFor(l.v.State, l.was, was.Heats[k].Why)
		}
		// Whose benches come free later or earlier waits for the same, only for another time.
		if l.adults && (m.Why.Code == gen.MoveWhyCodeBenches || m.Why.Code == gen.MoveWhyCodeOrder) {
			m.Why = &gen.MoveWhy{Code: gen.MoveWhyCodeAdults}
		}
		out = append(out, m)
	}
	slices.SortStableFunc(out, func(a, b gen.PlanMove) int { return cmp.Compare(moved(b), moved(a)) })
	return out
}

func moved(m gen.PlanMove) time.Duration { return m.To.Sub(m.From).Abs() }

// waitsFor says what a heat waits for in a day.
func waitsFor(s *day.State, rest dayplan.Rest, c dayplan.Cause) *gen.MoveWhy {
	out := gen.MoveWhy{Code: gen.MoveWhyCodeOrder}
	if c.Code != dayplan.CauseNothing {
		out.Code = wire.Word[gen.MoveWhyCode](c.Code)
	}
	switch c.Code {
	case dayplan.CauseBenches:
		out.Benches = wire.Opt(len(rest.Benches))
	case dayplan.CauseCar:
		out.Number = wire.Opt(s.Number(c.Entry))
	case dayplan.CauseRound:
		out.Division = wire.Opt(string(rest.Rounds[c.Round].Division))
		return &out
	case dayplan.CauseTask:
		out.Task = wire.Opt(string(c.Task))
		return &out
	case dayplan.CauseLeg:
		out.Division = wire.Opt(string(rest.Rounds[rest.Heats[c.Heat].Round].Division))
	}
	if c.Heat >= 0 && rest.Heats[c.Heat].Drawn {
		out.Heat = wire.Opt(string(rest.Heats[c.Heat].ID))
	}
	return &out
}
