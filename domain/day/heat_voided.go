package day

// HeatVoided says that a heat's runs do not count and it is raced again.
type HeatVoided struct {
	Ruled
	Heat HeatID `json:"heat"`
	// VoidRuns are the runs that are thrown away.
	VoidRuns []RunID `json:"void_runs,omitempty"`
	// Again are the lanes that begin anew.
	Again []LaneNow `json:"again,omitempty"`
	Aged
}

// Type is the name in the log.
func (HeatVoided) Type() string { return "HeatVoided" }

func (e HeatVoided) apply(s *State) {
	for _, run := range e.VoidRuns {
		r := s.Runs[run]
		r.Void = true
		s.Runs[run] = r
	}
	h := s.Heats[e.Heat].reopened().withLanes(func(_ int, l Lane) Lane {
		l.Better, l.PenaltyUM = "", 0
		return l
	}).anew(e.Again)
	h.StartedUS = 0
	s.Heats[e.Heat] = h
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat})
}
