package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// Consents are what a guardian agreed to of a person, each apart: the display name on
// screens, the display name in published results, and photographs.
type Consents struct {
	OnScreen  bool `json:"on_screen"`
	InResults bool `json:"in_results"`
	Photo     bool `json:"photo"`
}

// ConsentsChanged says what a guardian agrees to from now on, and who wrote it down.
type ConsentsChanged struct {
	Person day.EntrantID `json:"person"`
	Consents
	By string `json:"by"`
}

// ConsentChange is one change of a person's consents.
type ConsentChange struct {
	Consents
	By   string `json:"by"`
	AtUS int64  `json:"at_us"`
}

// ConsentsOf are what changed of a person's consents, oldest first. What was agreed to
// before the log noted it is not among them.
func (s *State) ConsentsOf(person day.EntrantID) []ConsentChange { return s.Consents.At(person) }

// changed is the event of a person's consents, if they are others than both their row
// and the log have: an import changes rows without the log.
func (c KeepPerson) changed(s *State, by string) []Event {
	if c.Consents == nil {
		return nil
	}
	var last Consents
	if c.Was != nil {
		last = *c.Was
	}
	same := *c.Consents == last
	if all := s.ConsentsOf(c.Person); len(all) > 0 {
		noted := all[len(all)-1].Consents == *c.Consents
		same = noted && (same || c.Was == nil)
	}
	if same {
		return nil
	}
	return []Event{ConsentsChanged{c.Person, *c.Consents, by}}
}

// Type is the name in the log.
func (ConsentsChanged) Type() string { return "ConsentsChanged" }

func (e ConsentsChanged) apply(s *State) {
	all := s.ConsentsOf(e.Person)
	all = append(all[:len(all):len(all)], ConsentChange{e.Consents, e.By, s.TimeUS})
	s.Consents = s.Consents.WithBy(s.owner, e.Person, all)
}

// KeepPeople is KeepPerson for several, of whom each is there once: all of them or none.
type KeepPeople struct {
	People []KeepPerson
}

func (c KeepPeople) decide(s *State, m meet.Meta) ([]Event, error) {
	var out []Event
	for _, one := range c.People {
		events, err := one.decide(s, m)
		if err != nil {
			return nil, err
		}
		out = append(out, events...)
	}
	return out, nil
}
