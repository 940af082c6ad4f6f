package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// MoveLane brings a called car to another bench before the start.
type MoveLane struct {
	Heat  day.HeatID
	Entry day.EntryID
	Bench day.BenchID
}

func (c MoveLane) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	if !day.OneOf(h.Lanes[i].State, day.LaneCalled, day.LaneReady) {
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	if h.Lanes[i].Bench == c.Bench {
		return nil, nil
	}
	if err := checkAsked(s, []day.BenchID{c.Bench}, 1); err != nil {
		return nil, err
	}
	// A fresh run id, so that what the old bench may still send is told apart.
	return []day.Event{day.LaneMoved{Heat: h.ID, Entry: c.Entry, Bench: c.Bench, Run: h.ID.Run(i, h.Lanes[i].Attempt+1), By: m.Actor}}, nil
}
