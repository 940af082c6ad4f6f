package club

import "benchmeet/domain/meet"

// ErasePerson notes that a person's name was erased. The rows themselves are
// removed by the store; this makes every later copy of the log erase them too.
type ErasePerson struct {
	Person meet.EntrantID
}

// PersonErased says that a person was erased.
type PersonErased struct {
	Person meet.EntrantID `json:"person"`
	By     string         `json:"by"`
}

func (c ErasePerson) decide(s *State, m meet.Meta) ([]Event, error) {
	if _, done := s.Erased[c.Person]; done {
		return nil, nil
	}
	return []Event{PersonErased{c.Person, m.Actor}}, nil
}

// Type is the name in the log.
func (PersonErased) Type() string { return "PersonErased" }

func (e PersonErased) apply(s *State) { s.Erased[e.Person] = s.TimeUS }
