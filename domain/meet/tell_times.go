package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/refusal"
)

// TellTimes tells the hall from when on heats may be called, by the plan of now. What was
// told before is never told earlier.
type TellTimes struct {
	// FinishUS is the end of the day that is named; 0 is that of the plan.
	FinishUS int64
	// Reason is why times move; empty where nobody says.
	Reason day.ReasonCode
	// OpensUS is when the hall opens; 0 where that is not known.
	OpensUS int64
}

func (c TellTimes) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if c.Reason != "" {
		if err := (day.Reason{Code: c.Reason}).Check(); err != nil {
			return nil, err
		}
	}
	if s.Paused {
		return nil, refusal.New("paused")
	}
	rest := dayplan.RestOf(s, m.NowUS, c.OpensUS)
	plan := dayplan.Order(rest, dayplan.Seen(s))
	e := day.TimesTold{By: m.Actor, Reason: c.Reason, FinishUS: dayplan.ToldUp(plan.FinishUS), Heats: []day.HeatTold{}}
	if c.FinishUS != 0 {
		e.FinishUS = dayplan.ToldUp(claimed(c.FinishUS))
	}
	for i, h := range rest.Heats {
		slot := plan.Heats[i]
		if !h.Drawn || !h.Waits() || slot.EndUS == 0 {
			continue
		}
		e.Heats = append(e.Heats, day.HeatTold{Heat: h.ID, ToldTime: promised(s.HeatPromise(s.Heats[h.ID]), slot.CallUS)})
	}
	for i, r := range rest.Rounds {
		span := plan.Rounds[i]
		if r.Drawn || span.StartUS == 0 {
			continue
		}
		e.Rounds = append(e.Rounds, day.RoundTold{
			Division: r.Division, Stage: r.Stage, Round: r.Number,
			ToldTime: promised(s.RoundPromise(r.Division, r.Stage, r.Number), span.StartUS),
		})
	}
	switch {
	case len(e.Heats)+len(e.Rounds) == 0:
		return nil, refusal.New("told-nothing")
	case asTold(s, e):
		return nil, nil
	}
	return []day.Event{e}, nil
}

// promised is what is told of a likely time: whole five minutes before it, and nothing
// earlier than what was told.
func promised(before day.ToldTime, likelyUS int64) day.ToldTime {
	now := max(dayplan.ToldDown(likelyUS), before.NotBeforeUS)
	switch before.NotBeforeUS {
	case 0:
		return day.ToldTime{NotBeforeUS: now}
	case now:
		return before
	}
	return day.ToldTime{NotBeforeUS: now, WasUS: before.NotBeforeUS}
}

// asTold says whether all of it was told already.
func asTold(s *day.State, e day.TimesTold) bool {
	if s.Told == nil || s.Told.FinishUS != e.FinishUS {
		return false
	}
	for _, h := range e.Heats {
		if s.Told.Heats[h.Heat] != h.ToldTime {
			return false
		}
	}
	for _, r := range e.Rounds {
		if s.Told.Rounds[r.Division.Round(r.Stage, r.Round)] != r.ToldTime {
			return false
		}
	}
	return true
}
