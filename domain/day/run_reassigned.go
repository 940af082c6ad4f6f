package day

// RunReassigned says that a run counts for another entry.
type RunReassigned struct {
	Ruled
	Run       RunID   `json:"run"`
	FromHeat  HeatID  `json:"from_heat"`
	FromEntry EntryID `json:"from_entry"`
	Heat      HeatID  `json:"heat"`
	Entry     EntryID `json:"entry"`
}

// Type is the name in the log.
func (RunReassigned) Type() string { return "RunReassigned" }

func (e RunReassigned) apply(s *State) {
	from := s.Heats[e.FromHeat]
	if i, in := from.Lane(e.FromEntry); in {
		s.Heats[e.FromHeat] = s.reopened(from.withLane(i, s.toRace(from.Lanes[i])))
	}
	s.putRun(e.Run, e.Heat, e.Entry)
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}
