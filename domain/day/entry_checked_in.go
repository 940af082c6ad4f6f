package day

// EntryCheckedIn says whether an entry is there.
type EntryCheckedIn struct {
	Entry EntryID `json:"entry"`
	There bool    `json:"there"`
	By    string  `json:"by"`
}

// Type is the name in the log.
func (EntryCheckedIn) Type() string { return "EntryCheckedIn" }

func (e EntryCheckedIn) apply(s *State) {
	entry := s.Entries[e.Entry]
	entry.CheckedIn = e.There
	s.Entries[e.Entry] = entry
}
