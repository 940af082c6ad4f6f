package meet

import "benchmeet/domain/refusal"

// CloseEntries ends the taking of entries of a division, before the lots are
// drawn, or opens it again while nothing is drawn.
type CloseEntries struct {
	Division DivisionID
	Open     bool
}

// EntriesClosed says that a division takes no more entries.
type EntriesClosed struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
}

// EntriesReopened says that a division takes entries again.
type EntriesReopened struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
}

func (c CloseEntries) decide(s *State, m Meta) ([]Event, error) {
	if _, err := Hosting(s, c.Division); err != nil {
		return nil, err
	}
	p := s.Programmes[c.Division]
	if p.EntriesClosed == !c.Open {
		return nil, nil
	}
	if !c.Open {
		return []Event{EntriesClosed{c.Division, m.Actor}}, nil
	}
	if stage, _ := p.Round(); stage > 0 {
		return nil, refusal.New("division-drawn", "division", c.Division)
	}
	return []Event{EntriesReopened{c.Division, m.Actor}}, nil
}

// Type is the name in the log.
func (EntriesClosed) Type() string { return "EntriesClosed" }

func (e EntriesClosed) apply(s *State) { s.closeEntries(e.Division, true) }

// Type is the name in the log.
func (EntriesReopened) Type() string { return "EntriesReopened" }

func (e EntriesReopened) apply(s *State) { s.closeEntries(e.Division, false) }

func (s *State) closeEntries(d DivisionID, closed bool) {
	p := s.Programmes[d]
	p.EntriesClosed = closed
	s.Programmes[d] = p
}
