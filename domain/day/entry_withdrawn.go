package day

import "slices"

// EntryWithdrawn says that an entry takes no further part.
type EntryWithdrawn struct {
	Ruled
	Entry EntryID `json:"entry"`
}

// EntryDisqualified says that an entry is not ranked and takes no further part.
type EntryDisqualified struct {
	Ruled
	Entry EntryID `json:"entry"`
}

// HeatsOf are the heats in which an entry has a lane.
func (s *State) HeatsOf(id EntryID) []Heat {
	return slices.DeleteFunc(s.SortedHeats(), func(h Heat) bool {
		_, in := h.Lane(id)
		return !in
	})
}

// takeOut ends an entry's lanes that were not raced.
func (s *State) takeOut(id EntryID, status LaneStatus) {
	for _, h := range s.SortedHeats() {
		i, in := h.Lane(id)
		if !in || h.Lanes[i].State == LaneDone {
			continue
		}
		l := h.Lanes[i]
		l.State, l.Status, l.Armed = LaneDone, status, ""
		s.Heats[h.ID] = h.withLane(i, l.keptBetter()).ebbed()
	}
}

// Type is the name in the log.
func (EntryWithdrawn) Type() string { return "EntryWithdrawn" }

func (e EntryWithdrawn) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Withdrawn = true
	s.Entries[e.Entry] = entry
	s.takeOut(e.Entry, StatusWithdrawn)
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}

// Type is the name in the log.
func (EntryDisqualified) Type() string { return "EntryDisqualified" }

func (e EntryDisqualified) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.Disqualified = true
	s.Entries[e.Entry] = entry
	s.takeOut(e.Entry, StatusDisqualified)
	s.rule(e.Type(), e.Ruled, Ruling{Entry: e.Entry, Div: entry.Division})
}
