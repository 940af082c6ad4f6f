package meet

import "benchmeet/domain/refusal"

// CheckIn notes that the entrant and the car are there. Only entries that are
// checked in are drawn.
type CheckIn struct {
	Entry EntryID
	There bool
}

// EntryCheckedIn says whether an entry is there.
type EntryCheckedIn struct {
	Entry EntryID `json:"entry"`
	There bool    `json:"there"`
	By    string  `json:"by"`
}

func (c CheckIn) decide(s *State, m Meta) ([]Event, error) {
	e, err := s.Entry(c.Entry)
	if err != nil {
		return nil, err
	}
	if e.CheckedIn == c.There {
		return nil, nil
	}
	if !c.There && isDrawn(s, c.Entry) {
		return nil, refusal.New("check-in-drawn", "entry", c.Entry)
	}
	return []Event{EntryCheckedIn{Entry: c.Entry, There: c.There, By: m.Actor}}, nil
}

// isDrawn says whether an entry stands in a heat.
func isDrawn(s *State, entry EntryID) bool {
	for _, h := range s.Heats {
		if _, in := h.Lane(entry); in {
			return true
		}
	}
	return false
}

// Type is the name in the log.
func (EntryCheckedIn) Type() string { return "EntryCheckedIn" }

func (e EntryCheckedIn) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.CheckedIn = e.There
	s.Entries[e.Entry] = entry
}
