package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// CheckIn notes that the entrant and the car are there. Only entries that are
// checked in are drawn.
type CheckIn struct {
	Entry day.EntryID
	There bool
}

func (c CheckIn) decide(s *day.State, m Meta) ([]day.Event, error) {
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
	return []day.Event{day.EntryCheckedIn{Entry: c.Entry, There: c.There, By: m.Actor}}, nil
}

// isDrawn says whether an entry stands in a heat.
func isDrawn(s *day.State, entry day.EntryID) bool {
	for _, h := range s.Heats {
		if _, in := h.Lane(entry); in {
			return true
		}
	}
	return false
}
