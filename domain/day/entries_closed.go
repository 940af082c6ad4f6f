package day

// EntriesClosed says that a division takes no more entries.
type EntriesClosed struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
	// Short says that the programme makes sure of fewer races than the rules promise, and
	// that somebody was asked and went on; nil where it does not.
	Short *ShortOfPromise `json:"short,omitempty"`
}

// ShortOfPromise is how many races a programme makes sure of, and how many the rules
// promise.
type ShortOfPromise struct {
	Sure     int `json:"sure"`
	Promised int `json:"promised"`
}

// EntriesReopened says that a division takes entries again.
type EntriesReopened struct {
	Division DivisionID `json:"division"`
	By       string     `json:"by"`
}

// Type is the name in the log.
func (EntriesClosed) Type() string { return "EntriesClosed" }

func (e EntriesClosed) apply(s *State) {
	s.closeEntries(e.Division, true)
	p := s.Programmes[e.Division]
	p.Short = e.Short
	s.Programmes[e.Division] = p
}

// Type is the name in the log.
func (EntriesReopened) Type() string { return "EntriesReopened" }

func (e EntriesReopened) apply(s *State) { s.closeEntries(e.Division, false) }

func (s *State) closeEntries(d DivisionID, closed bool) {
	p := s.Programmes[d]
	p.EntriesClosed, p.SteppedUS = closed, s.TimeUS
	s.Programmes[d] = p
}
