package meet

import "benchmeet/domain/refusal"

// RerunCounts says which run counts after a re-run.
type RerunCounts string

// Which run counts.
const (
	CountsRerun  RerunCounts = "rerun"  // the second, whatever it gives
	CountsBetter RerunCounts = "better" // the better of both
)

// GrantRerun lets a lane race a second time: one that has a result, or one whose
// bench failed while the others race on. A re-run because of a tie does not
// count against the entry's limit.
type GrantRerun struct {
	Heat   HeatID
	Entry  EntryID
	Counts RerunCounts
	Reason Reason
}

// RerunGranted says that a lane races again.
type RerunGranted struct {
	Ruled
	Heat   HeatID      `json:"heat"`
	Entry  EntryID     `json:"entry"`
	Counts RerunCounts `json:"counts"`
	Free   bool        `json:"free,omitempty"` // not against the limit
}

func (c GrantRerun) decide(s *State, m Meta) ([]Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	entry := s.Entries[c.Entry]
	free := c.Reason.Code == ReasonTie || c.Counts == CountsDecider && !h.Lanes[i].Decided
	switch {
	case !OneOf(c.Counts, CountsRerun, CountsBetter, CountsDecider):
		return nil, refusal.New("rerun-counts", "counts", c.Counts)
	case !entry.Racing():
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	case h.Phase == PhaseRacing && h.Lanes[i].State == LaneRacing:
		// Its bench has failed: the others race on, this lane is called again.
	case h.Lanes[i].State != LaneDone:
		return nil, refusal.New("rerun-early", "number", entry.StartNumber, "heat", h.ID)
	case h.Phase == PhaseCalled || h.Phase == PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", h.ID)
	}
	if c.Counts == CountsDecider {
		if err := MayDecide(s, h, h.Lanes[i], c.Reason.Code); err != nil {
			return nil, err
		}
	}
	switch {
	case !free && entry.Reruns >= s.Rules.RerunsPerEntry:
		return nil, refusal.New("rerun-limit", "number", entry.StartNumber, "limit", s.Rules.RerunsPerEntry)
	case c.Counts != CountsRerun && h.Lanes[i].Counts == "":
		return nil, refusal.New("rerun-nothing-better", "number", entry.StartNumber)
	}
	return []Event{RerunGranted{Ruled: ruled, Heat: h.ID, Entry: c.Entry, Counts: c.Counts, Free: free}}, nil
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
