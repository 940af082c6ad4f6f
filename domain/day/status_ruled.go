package day

// StatusRuled says what was ruled of a lane.
type StatusRuled struct {
	Ruled
	Heat   HeatID     `json:"heat"`
	Entry  EntryID    `json:"entry"`
	Status LaneStatus `json:"status"`
	// Stands is the status that the lane has from now on: none where only a re-run was
	// not made.
	Stands LaneStatus `json:"stands,omitempty"`
	// Keeps is the earlier run that counts, because the re-run will not be.
	Keeps RunID `json:"keeps,omitempty"`
	// Again are the lanes that begin anew, where a status is taken back.
	Again []LaneNow `json:"again,omitempty"`
	Aged
}

// Type is the name in the log.
func (StatusRuled) Type() string { return "StatusRuled" }

func (e StatusRuled) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	l.Status, l.State, l.Armed = e.Stands, LaneDone, ""
	h = h.withLane(i, l.keeping(e.Keeps))
	if len(e.Again) > 0 {
		h = h.reopened().anew(e.Again)
	}
	s.Heats[e.Heat] = h.ebbed()
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Status: e.Status})
}
