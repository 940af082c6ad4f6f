package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// SwapLanes exchanges the runs of two lanes of a heat: both cars stood at each
// other's bench.
type SwapLanes struct {
	Heat   day.HeatID
	A, B   day.EntryID
	Reason day.Reason
}

func (c SwapLanes) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, a, err := s.HeatLane(c.Heat, c.A)
	if err != nil {
		return nil, err
	}
	_, b, err := s.HeatLane(c.Heat, c.B)
	if err != nil {
		return nil, err
	}
	if a == b || h.Lanes[a].Counts == "" || h.Lanes[b].Counts == "" {
		return nil, refusal.New("swap-needs-runs", "heat", h.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return andPost(s, m, h.ID, day.LanesSwapped{Ruled: ruled, Heat: h.ID, A: c.A, B: c.B}), nil
}
