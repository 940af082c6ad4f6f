package meet

import (
	"benchmeet/domain/day"
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
type Resume struct{}

func (Resume) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if !s.Paused {
		return nil, refusal.New("not-paused")
	}
	return []day.Event{day.MeetResumed{By: m.Actor, ShiftUS: m.NowUS - s.PausedUS}}, nil
}
