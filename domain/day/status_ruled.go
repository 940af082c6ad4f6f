package day

// StatusRuled says what was ruled of a lane.
type StatusRuled struct {
	Ruled
	Heat   HeatID     `json:"heat"`
	Entry  EntryID    `json:"entry"`
	Status LaneStatus `json:"status"`
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
	l.Status, l.State, l.Armed = e.Status, LaneDone, ""
	if l.Better != "" && l.Counts == "" && e.Status != StatusDisqualified {
		l.Status = StatusNone // only the re-run was not made; the earlier run counts
	}
	l = l.keptBetter()
	if e.Status == StatusNone && l.Counts == "" {
		l = s.toRace(l)
		h = s.reopened(h)
	}
	s.Heats[e.Heat] = h.withLane(i, l).ebbed()
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Status: e.Status})
}
