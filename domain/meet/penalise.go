package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Penalise takes a distance off a lane's result.
type Penalise struct {
	Heat   day.HeatID
	Entry  day.EntryID
	UM     int64 // µm; 0 takes a penalty back
	Reason day.Reason
}

func (c Penalise) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	switch {
	case c.UM < 0 || c.UM > 1_000_000_000_000:
		return nil, refusal.New("penalty-range")
	case h.Lanes[i].PenaltyUM == c.UM:
		return nil, nil
	}
	return andPost(s, m, h.ID, day.PenaltyGiven{Ruled: ruled, Heat: h.ID, Entry: c.Entry, UM: c.UM}), nil
}
