package meet

import (
	"slices"

	"benchmeet/domain/refusal"
)

// Withdraw takes an entry out of the rest of the day: the family goes home.
// Results that it has stay in the standings.
type Withdraw struct {
	Entry  EntryID
	Reason Reason
}

// EntryWithdrawn says that an entry takes no further part.
type EntryWithdrawn struct {
	Ruled
	Entry EntryID `json:"entry"`
}

// Disqualify takes an entry out of its division altogether: it is not ranked.
type Disqualify struct {
	Entry  EntryID
	Reason Reason
}

// EntryDisqualified says that an entry is not ranked and takes no further part.
type EntryDisqualified struct {
	Ruled
	Entry EntryID `json:"entry"`
}

func (c Withdraw) decide(s *State, m Meta) ([]Event, error) {
	return s.leave(m, c.Entry, c.Reason, func(r Ruled) Event { return EntryWithdrawn{r, c.Entry} })
}

func (c Disqualify) decide(s *State, m Meta) ([]Event, error) {
	return s.leave(m, c.Entry, c.Reason, func(r Ruled) Event { return EntryDisqualified{r, c.Entry} })
}

func (s *State) leave(m Meta, id EntryID, reason Reason, event func(Ruled) Event) ([]Event, error) {
	entry, err := s.entry(id)
	if err != nil {
		return nil, err
	}
	if !entry.Racing() {
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	}
	var heats []Heat
	for _, h := range s.SortedHeats() {
		if _, in := h.lane(id); in {
			heats = append(heats, h)
		}
	}
	ruled, err := s.ruled(m, reason, heats...)
	if err != nil {
		return nil, err
	}
	events := []Event{event(ruled)}
	for _, h := range heats {
		if !h.posted() {
			events = s.andPost(m, h.ID, events...)
		}
	}
	return events, nil
}

// takeOut ends an entry's lanes that were not raced.
func (s *State) takeOut(id EntryID, status LaneStatus) {
	for _, h := range s.SortedHeats() {
		i, in := h.lane(id)
		if !in || h.Lanes[i].State == LaneDone {
			continue
		}
		l := h.Lanes[i]
		l.State, l.Status, l.Armed = LaneDone, status, ""
		if l.Better != "" {
			l.Counts, l.Better = l.Better, ""
		}
		s.Heats[h.ID] = h.withLane(i, l)
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

// racing keeps the entries that still take part.
func (s *State) racing(entries []EntryID) []EntryID {
	return slices.DeleteFunc(slices.Clone(entries), func(id EntryID) bool { return !s.Entries[id].Racing() })
}
