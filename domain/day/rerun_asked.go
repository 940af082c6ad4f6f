package day

// RerunAsked says that a re-run was asked for.
type RerunAsked struct {
	Heat   HeatID  `json:"heat"`
	Entry  EntryID `json:"entry"`
	By     string  `json:"by"`
	Reason Reason  `json:"reason"`
}

// Type is the name in the log.
func (RerunAsked) Type() string { return "RerunAsked" }

func (e RerunAsked) apply(s *State) {
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		l.Asked = &Ask{By: e.By, AtUS: s.TimeUS, Reason: e.Reason, Rulings: len(s.Rulings)}
		s.Heats[e.Heat] = h.withLane(i, l)
	}
}

// RerunTurnedDown says that a request for a re-run was turned down.
type RerunTurnedDown struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
}

// Type is the name in the log.
func (RerunTurnedDown) Type() string { return "RerunTurnedDown" }

func (e RerunTurnedDown) apply(s *State) {
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry})
}
