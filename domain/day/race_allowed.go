package day

// RaceAllowed says that a car may race without its checks.
type RaceAllowed struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
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
