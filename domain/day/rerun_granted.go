package day

// RerunGranted says that a lane races again.
type RerunGranted struct {
	Ruled
	Heat   HeatID      `json:"heat"`
	Entry  EntryID     `json:"entry"`
	Counts RerunCounts `json:"counts"`
	Free   bool        `json:"free,omitempty"` // not against the limit
	// Better is the earlier run that may still count.
	Better RunID `json:"better,omitempty"`
	// DropsPenaltyUM is the penalty that goes with the run that is replaced, in µm.
	DropsPenaltyUM int64 `json:"drops_penalty_um,omitempty"`
	// Again are the lanes that begin anew: this one, and those of the heat that have
	// nothing to stand on.
	Again []LaneNow `json:"again,omitempty"`
	Aged
}

// Type is the name in the log.
func (RerunGranted) Type() string { return "RerunGranted" }

func (e RerunGranted) apply(s *State) {
	h := s.Heats[e.Heat]
	i, in := h.Lane(e.Entry)
	if !in {
		return
	}
	old := h.Lanes[i].Counts
	h = h.anew(e.Again)
	l := h.Lanes[i]
	l.Better = e.Better
	l.PenaltyUM -= e.DropsPenaltyUM
	if e.Counts == CountsDecider && l.State != LaneDone {
		l.Deciding, l.Decided = true, true
	}
	h.Lanes[i] = l // of a list that anew has made
	if h.Phase == PhaseRacing {
		s.Heats[e.Heat] = h.ebbed()
	} else {
		s.Heats[e.Heat] = h.reopened()
	}
	if !e.Free {
		entry := s.Entries[e.Entry]
		entry.Reruns++
		s.Entries[e.Entry] = entry
	}
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: old})
}
