package day

// PenaltyGiven says how much is taken off a lane's result.
type PenaltyGiven struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	UM    int64   `json:"um"`
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
