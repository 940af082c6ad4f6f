package day

// LaneLeft says that a called car is left over, because its bench is out of service: the
// others of its heat race, and it is called again when they have.
type LaneLeft struct {
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
}

// Type is the name in the log.
func (LaneLeft) Type() string { return "LaneLeft" }

func (e LaneLeft) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	l.State, l.Armed, l.Bench, l.Pack = LaneWaiting, "", "", ""
	s.Heats[e.Heat] = h.withLane(i, l).ebbed()
}
