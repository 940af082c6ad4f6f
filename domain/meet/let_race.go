package meet

import "benchmeet/domain/refusal"

// LetRace rules that a car races in a heat although a check at the inspector's
// table is missing.
type LetRace struct {
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RaceAllowed says that a car may race without its checks.
type RaceAllowed struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
}

func (c LetRace) decide(s *State, m Meta) ([]Event, error) {
	h, i, ruled, err := ruledLane(s, m, c.Heat, c.Entry, c.Reason)
	if err != nil {
		return nil, err
	}
	switch l := h.Lanes[i]; {
	case l.Allowed:
		return nil, nil
	case !OneOf(l.State, LaneWaiting, LaneCalled, LaneReady):
		return nil, refusal.New("let-race-late", "number", s.Number(c.Entry), "heat", h.ID)
	}
	return []Event{RaceAllowed{Ruled: ruled, Heat: h.ID, Entry: c.Entry}}, nil
}

// Type is the name in the log.
func (RaceAllowed) Type() string { return "RaceAllowed" }

func (e RaceAllowed) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.Allowed = true
		s.Heats[e.Heat] = h.withLane(i, l)
	}
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry})
}
