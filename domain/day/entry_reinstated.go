package day

// EntryReinstated says that an entry takes part again.
type EntryReinstated struct {
	Ruled
	Entry EntryID `json:"entry"`
	// Again are the lanes that begin anew, heat after heat: its own, and those of the
	// same heats that have nothing to stand on.
	Again []LaneNow `json:"again,omitempty"`
	// Clears are the heats in which its run counts without the status that it had.
	Clears []HeatID `json:"clears,omitempty"`
	Aged
}

// EndedByLeaving says whether a lane has no run because its entry left.
func (l Lane) EndedByLeaving() bool {
	return l.Counts == "" && (l.Status == StatusWithdrawn || l.Status == StatusDisqualified)
}

// Type is the name in the log.
func (EntryReinstated) Type() string { return "EntryReinstated" }

func (e EntryReinstated) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Withdrawn, entry.Disqualified = false, false
	s.Entries[e.Entry] = entry
	for i, now := range e.Again {
		if h, there := s.Heats[now.Heat]; there {
			s.Heats[now.Heat] = h.reopened().anew(e.Again[i : i+1])
		}
	}
	for _, id := range e.Clears {
		h := s.Heats[id]
		if i, in := h.Lane(e.Entry); in {
			l := h.Lanes[i]
			l.Status = StatusNone
			s.Heats[id] = h.withLane(i, l)
		}
	}
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}
