package day

// RunSetAside says that a run will not count.
type RunSetAside struct {
	Ruled
	Run   RunID   `json:"run"`
	Entry EntryID `json:"entry,omitempty"` // where the run itself is nobody's
}

// Type is the name in the log.
func (RunSetAside) Type() string { return "RunSetAside" }

func (e RunSetAside) apply(s *State) {
	r := s.Runs[e.Run]
	r.Void = true
	s.Runs[e.Run] = r
	about := Ruling{Run: e.Run, Heat: r.Heat, Entry: r.Entry}
	if r.Entry == "" {
		about.Entry = e.Entry
	}
	s.rule(e.Type(), e.Ruled, about)
}
