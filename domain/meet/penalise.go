package meet

import "benchmeet/domain/refusal"

// Penalise takes a distance off a lane's result.
type Penalise struct {
	Heat   HeatID
	Entry  EntryID
	UM     int64 // µm; 0 takes a penalty back
	Reason Reason
}

// PenaltyGiven says how much is taken off a lane's result.
type PenaltyGiven struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	UM    int64   `json:"um"`
}

func (c Penalise) decide(s *State, m Meta) ([]Event, error) {
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
	return andPost(s, m, h.ID, PenaltyGiven{Ruled: ruled, Heat: h.ID, Entry: c.Entry, UM: c.UM}), nil
}

// Type is the name in the log.
func (PenaltyGiven) Type() string { return "PenaltyGiven" }

func (e PenaltyGiven) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.PenaltyUM = e.UM
		s.Heats[e.Heat] = h.withLane(i, l)
	}
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, PenaltyUM: e.UM})
}
