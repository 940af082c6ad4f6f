package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/refusal"
)

// Pause stops the day: no calls, no starts. Runs under way still come in.
type Pause struct {
	Reason day.Reason
}

func (c Pause) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if s.Paused {
		return nil, nil
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	return []day.Event{day.MeetPaused{By: m.Actor, Reason: c.Reason.Code}}, nil
}

// Resume goes on with the day. Call and protest deadlines that had not passed
// when it was paused shift by the length of the pause.
type Resume struct {
	// KeepBatteries lets the checks of batteries from before the pause count: nobody
	// was at the cars. Else all are taken again.
	KeepBatteries bool
}

func (c Resume) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if !s.Paused {
		return nil, refusal.New("not-paused")
	}
	e := day.MeetResumed{By: m.Actor, ShiftUS: m.NowUS - s.PausedUS}
	if s.Told != nil {
		e.ToldUS = e.ShiftUS - e.ShiftUS%dayplan.ToldStepUS
	}
	if len(s.Packs) > 0 && !c.KeepBatteries {
		e.BatteriesSinceUS = m.NowUS
	}
	for id, h := range s.Heats {
		switch {
		case h.Phase == day.PhaseCalled && h.DeadlineUS > s.PausedUS:
			put(&e.DeadlinesUS, id, h.DeadlineUS+e.ShiftUS)
		case h.Phase == day.PhaseProvisional && h.ProtestUntilUS > s.PausedUS:
			// A result that was posted during the pause waited only the rest of it.
			put(&e.ProtestsUS, id, h.ProtestUntilUS+e.ShiftUS-max(0, h.PostedUS-s.PausedUS))
		}
	}
	return []day.Event{e}, nil
}

// put puts an instant into a map, which it makes where there is none.
func put(at *map[day.HeatID]int64, heat day.HeatID, us int64) {
	if *at == nil {
		*at = map[day.HeatID]int64{}
	}
	(*at)[heat] = us
}
