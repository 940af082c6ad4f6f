package day

// DivisionsMerged says which divisions race together from now on.
type DivisionsMerged struct {
	Into DivisionID   `json:"into"`
	From []DivisionID `json:"from"`
	By   string       `json:"by"`
}

// DivisionsSplit says which divisions race by themselves again.
type DivisionsSplit struct {
	Division DivisionID   `json:"division"`
	From     []DivisionID `json:"from"`
	By       string       `json:"by"`
}

// Home is the division that an entry is ranked in: the one that it was entered
// for.
func (e Entry) Home() DivisionID {
	if e.Band != "" {
		return e.Band
	}
	return e.Division
}

// Type is the name in the log.
func (DivisionsMerged) Type() string { return "DivisionsMerged" }

func (e DivisionsMerged) apply(s *State) {
	for _, from := range e.From {
		p := s.Programmes[from]
		p.MergedInto = e.Into
		s.Programmes[from] = p
		for _, entry := range s.SortedEntries(from) {
			entry.Division, entry.Band = e.Into, from
			s.Entries[entry.ID] = entry
		}
	}
}

// Type is the name in the log.
func (DivisionsSplit) Type() string { return "DivisionsSplit" }

func (e DivisionsSplit) apply(s *State) {
	for _, from := range e.From {
		p := s.Programmes[from]
		p.MergedInto = ""
		s.Programmes[from] = p
	}
	for _, entry := range s.SortedEntries(e.Division) {
		if entry.Band != "" {
			entry.Division, entry.Band = entry.Band, ""
			s.Entries[entry.ID] = entry
		}
	}
}
