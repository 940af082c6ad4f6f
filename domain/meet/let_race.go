package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// LetRace rules that a car races in a heat although a check at the inspector's
// table is missing.
type LetRace struct {
	Heat   day.HeatID
	Entry  day.EntryID
	Reason day.Reason
}

func (c LetRace) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	switch l := h.Lanes[i]; {
	case l.Allowed:
		return nil, nil
	case !day.OneOf(l.State, day.LaneWaiting, day.LaneCalled, day.LaneReady):
		return nil, refusal.New("let-race-late", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []day.Event{day.RaceAllowed{Ruled: ruled, Heat: h.ID, Entry: c.Entry}}, nil
}
