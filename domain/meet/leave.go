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
	entry, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if !entry.Racing() {
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	}
	heats := s.HeatsOf(c.Entry)
	// Its results stay, so an official one is corrected only where a lane of it
	// was to race again.
	open := slices.DeleteFunc(slices.Clone(heats), Heat.Posted)
	ruled, err := ruledBy(s, m, c.Reason, open...)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, heats, EntryWithdrawn{ruled, c.Entry}), nil
}

// Disqualify takes an entry that has withdrawn, too: what is found out later
// takes its results away.
func (c Disqualify) decide(s *State, m Meta) ([]Event, error) {
	entry, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if entry.Disqualified {
		return nil, refusal.New("entry-out", "number", entry.StartNumber)
	}
	heats := s.HeatsOf(c.Entry)
	ruled, err := ruledBy(s, m, c.Reason, heats...)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, heats, EntryDisqualified{ruled, c.Entry}), nil
}

// HeatsOf are the heats in which an entry has a lane.
func (s *State) HeatsOf(id EntryID) []Heat {
	return slices.DeleteFunc(s.SortedHeats(), func(h Heat) bool {
		_, in := h.Lane(id)
		return !in
	})
}

func andPostAll(s *State, m Meta, heats []Heat, events ...Event) []Event {
	for _, h := range heats {
		events = andPost(s, m, h.ID, events...)
	}
	return events
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
