package day

// RerunGranted says that a lane races again.
type RerunGranted struct {
	Ruled
	Heat   HeatID      `json:"heat"`
	Entry  EntryID     `json:"entry"`
	Counts RerunCounts `json:"counts"`
	Free   bool        `json:"free,omitempty"` // not against the limit
}

// Type is the name in the log.
func (RerunGranted) Type() string { return "RerunGranted" }

func (e RerunGranted) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	old := l.Counts
	l.Better = ""
	if e.Counts != CountsRerun {
		l.Better = old
	}
	if e.Counts == CountsRerun {
		l.PenaltyUM = 0 // it belonged to the run that is replaced
	}
	l = s.toRace(l)
	if e.Counts == CountsDecider && l.State != LaneDone {
		l.Deciding, l.Decided = true, true
	}
	if h.Phase == PhaseRacing {
		s.Heats[e.Heat] = h.withLane(i, l).ebbed()
	} else {
		s.Heats[e.Heat] = s.reopened(h.withLane(i, l))
	}
	if !e.Free {
		entry := s.Entries[e.Entry]
		entry.Reruns++
		s.Entries[e.Entry] = entry
	}
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: old})
}
