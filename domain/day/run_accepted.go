package day

// RunAccepted says that a waiting run counts in a lane.
type RunAccepted struct {
	Ruled
	Run   RunID   `json:"run"`
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
	// SetsAside is the run that counted there before and waits from now on.
	SetsAside RunID `json:"sets_aside,omitempty"`
	Aged
}

// Type is the name in the log.
func (RunAccepted) Type() string { return "RunAccepted" }

func (e RunAccepted) apply(s *State) {
	s.putRun(e.Run, e.Heat, e.Entry, e.SetsAside)
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}

// putRun makes a run count in a lane and lets another wait, if any.
func (s *State) putRun(run RunID, heat HeatID, entry EntryID, aside RunID) {
	h := s.Heats[heat]
	i, in := h.Lane(entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	if aside != "" {
		was := s.Runs[aside]
		was.Waiting = WaitsSetAside
		s.Runs[aside] = was
	}
	r := s.Runs[run]
	r.Heat, r.Entry, r.Waiting = heat, entry, WaitsNot
	s.Runs[run] = r
	l.Counts, l.Armed, l.Better, l.State, l.Status = run, "", "", LaneDone, StatusNone
	l.Deciding = false
	l.Bench = r.Bench // where it ran, for whoever looks at the lane
	s.Heats[heat] = h.withLane(i, l).ebbed()
}
