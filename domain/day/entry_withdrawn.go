package day

import "slices"

// EntryWithdrawn says that an entry takes no further part.
type EntryWithdrawn struct {
	Ruled
	Entry EntryID `json:"entry"`
	// Ends are its lanes that were not raced.
	Ends []LaneNow `json:"ends,omitempty"`
	Aged
}

// EntryDisqualified says that an entry is not ranked and takes no further part.
type EntryDisqualified struct {
	Ruled
	Entry EntryID `json:"entry"`
	// Ends are its lanes that were not raced.
	Ends []LaneNow `json:"ends,omitempty"`
	Aged
}

// HeatsOf are the heats in which an entry has a lane.
func (s *State) HeatsOf(id EntryID) []Heat {
	return slices.DeleteFunc(s.SortedHeats(), func(h Heat) bool {
		_, in := h.Lane(id)
		return !in
	})
}

// end ends lanes without a race.
func (s *State) end(lanes []LaneNow) {
	for _, now := range lanes {
		h := s.Heats[now.Heat]
		if i, in := h.Lane(now.Entry); in {
			l := h.Lanes[i]
			l.State, l.Status, l.Armed = LaneDone, now.Out, ""
			s.Heats[h.ID] = h.withLane(i, l.keeping(now.Keeps)).ebbed()
		}
	}
}

// Type is the name in the log.
func (EntryWithdrawn) Type() string { return "EntryWithdrawn" }

func (e EntryWithdrawn) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Withdrawn = true
	s.Entries[e.Entry] = entry
	s.end(e.Ends)
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}

// Type is the name in the log.
func (EntryDisqualified) Type() string { return "EntryDisqualified" }

func (e EntryDisqualified) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Disqualified = true
	s.Entries[e.Entry] = entry
	s.end(e.Ends)
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}
