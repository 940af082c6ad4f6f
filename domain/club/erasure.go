package club

import (
	"maps"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// ErasePerson notes that a person's name was erased. The rows themselves are
// removed by the store; this makes every later copy of the log erase them too.
type ErasePerson struct {
	Person day.EntrantID
}

// PersonErased says that a person was erased.
type PersonErased struct {
	Person day.EntrantID `json:"person"`
	By     string        `json:"by"`
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

// EraseText notes that one free text was erased alone, as ErasePerson does for a
// person. What its event keeps is a salted hash, and the salt goes with the text.
type EraseText struct {
	Text string
}

// TextErased says that a free text was erased.
type TextErased struct {
	Text string `json:"text"`
	By   string `json:"by"`
}

func (c EraseText) decide(s *State, m meet.Meta) ([]Event, error) {
	if _, done := s.ErasedTexts[c.Text]; done {
		return nil, nil
	}
	return []Event{TextErased{c.Text, m.Actor}}, nil
}

// Type is the name in the log.
func (TextErased) Type() string { return "TextErased" }

func (e TextErased) apply(s *State) {
	texts := maps.Clone(s.ErasedTexts)
	if texts == nil {
		texts = map[string]int64{}
	}
	texts[e.Text] = s.TimeUS
	s.ErasedTexts = texts
}
