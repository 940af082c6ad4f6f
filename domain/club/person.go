package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// KeepPerson asks whether a person may be written down. The row itself stands
// outside the log; no event comes of it. An erased id is refused for ever.
type KeepPerson struct {
	Person day.EntrantID
}

func (c KeepPerson) decide(s *State, _ meet.Meta) ([]Event, error) {
	if err := day.CheckID("person", string(c.Person)); err != nil {
		return nil, err
	}
	if _, erased := s.Erased[c.Person]; erased {
		return nil, refusal.New("person-erased")
	}
	return nil, nil
}
