package day

// RunLeftStanding says that a doubtful run stays the result.
type RunLeftStanding struct {
	Ruled
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	Run   RunID   `json:"run"`
}

// Type is the name in the log.
func (RunLeftStanding) Type() string { return "RunLeftStanding" }

func (e RunLeftStanding) apply(s *State) {
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}
