package day

// EntryChanged says how an entry stands now.
type EntryChanged struct {
	ID          EntryID    `json:"id"`
	Division    DivisionID `json:"division"`
	StartNumber int        `json:"start_number"`
	Car         CarID      `json:"car"`
	RacesUp     bool       `json:"races_up,omitempty"`
	Team        string     `json:"team,omitempty"`
	// Band is the division that was asked for, where it races in Division.
	Band DivisionID `json:"band,omitempty"`
	// Lapses is why its car has to be inspected again; empty where it has not.
	Lapses ReasonCode `json:"lapses,omitempty"`
	Aged
}

// Type is the name in the log.
func (EntryChanged) Type() string { return "EntryChanged" }

func (e EntryChanged) apply(s *State) {
	old := s.Entries[e.ID]
	if e.Lapses != "" {
		s.lapse(e.ID, e.Lapses)
	}
	delete(s.Numbers, old.StartNumber)
	old.Division, old.StartNumber, old.Car, old.RacesUp = e.Division, e.StartNumber, e.Car, e.RacesUp
	old.Team, old.Band = e.Team, e.Band
	s.Entries[e.ID] = old
	s.Numbers[e.StartNumber] = e.ID
}
