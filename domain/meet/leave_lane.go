package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// LeaveLane lets the others of a called heat race without a car whose bench is out of
// service: it is called again when they have raced, and loses nothing by it.
type LeaveLane struct {
	Heat  day.HeatID
	Entry day.EntryID
}

func (c LeaveLane) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	l := h.Lanes[i]
	switch {
	case h.Phase != day.PhaseCalled || !day.OneOf(l.State, day.LaneCalled, day.LaneReady):
		return nil, refusal.New("not-called", "heat", h.ID)
	case !slices.ContainsFunc(s.Stranded(h), func(at day.Lane) bool { return at.Entry == c.Entry }):
		return nil, refusal.New("bench-good", "bench", l.Bench, "number", s.Number(c.Entry))
	}
	return []day.Event{day.LaneLeft{Heat: h.ID, Entry: c.Entry, By: m.Actor}}, nil
}
