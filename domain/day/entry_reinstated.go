package day

// EntryReinstated says that an entry takes part again.
type EntryReinstated struct {
	Ruled
	Entry EntryID `json:"entry"`
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
	for _, h := range s.HeatsOf(e.Entry) {
		i, _ := h.Lane(e.Entry)
		l := h.Lanes[i]
		switch {
		case l.EndedByLeaving() && (h.Phase == PhaseDrawn || h.Phase == PhaseProvisional):
			s.Heats[h.ID] = s.reopened(h.withLane(i, s.toRace(l)))
		case l.Status == StatusWithdrawn && l.Counts != "":
			l.Status = StatusNone
			s.Heats[h.ID] = h.withLane(i, l)
		}
	}
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}
