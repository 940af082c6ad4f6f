package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// KeepPerson asks whether a person may be written down. The row itself stands
// outside the log; an event comes of changed consents alone. An erased id is refused
// for ever.
type KeepPerson struct {
	Person day.EntrantID
	// Written is what is written down; nil where that was looked at before.
	Written *Written
	// Consents are those that are written down, nil where they stay as they are, and
	// Was are those of the person's row before, nil where there is none.
	Consents, Was *Consents
}

func (c KeepPerson) decide(s *State, m meet.Meta) ([]Event, error) {
	if err := day.CheckID("person", string(c.Person)); err != nil {
		return nil, err
	}
	if _, erased := s.Erased[c.Person]; erased {
		return nil, refusal.New("person-erased")
	}
	if c.Written != nil {
		if err := c.Written.Check(m.NowUS); err != nil {
			return nil, err
		}
	}
	return c.changed(s, m.Actor), nil
}
