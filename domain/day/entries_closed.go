package day

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

// Type is the name in the log.
func (EntriesClosed) Type() string { return "EntriesClosed" }

func (e EntriesClosed) apply(s *State) { s.closeEntries(e.Division, true) }

// Type is the name in the log.
func (EntriesReopened) Type() string { return "EntriesReopened" }

func (e EntriesReopened) apply(s *State) { s.closeEntries(e.Division, false) }

func (s *State) closeEntries(d DivisionID, closed bool) {
	p := s.Programmes[d]
	p.EntriesClosed, p.SteppedUS = closed, s.TimeUS
	s.Programmes[d] = p
}
