package day

// RunReassigned says that a run counts for another entry.
type RunReassigned struct {
	Ruled
	Run       RunID   `json:"run"`
	FromHeat  HeatID  `json:"from_heat"`
	FromEntry EntryID `json:"from_entry"`
	Heat      HeatID  `json:"heat"`
	Entry     EntryID `json:"entry"`
	// Again are the lanes that begin anew in the heat that the run leaves.
	Again []LaneNow `json:"again,omitempty"`
	// SetsAside is the run that counted in the new lane and waits from now on.
	SetsAside RunID `json:"sets_aside,omitempty"`
	Aged
}

// Type is the name in the log.
func (RunReassigned) Type() string { return "RunReassigned" }

func (e RunReassigned) apply(s *State) {
	if len(e.Again) > 0 {
		s.Heats[e.FromHeat] = s.Heats[e.FromHeat].reopened().anew(e.Again)
	}
	s.putRun(e.Run, e.Heat, e.Entry, e.SetsAside)
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}
