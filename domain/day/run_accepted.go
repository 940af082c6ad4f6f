package day

// RunAccepted says that a waiting run counts in a lane.
type RunAccepted struct {
	Ruled
	Run   RunID   `json:"run"`
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
}

// Type is the name in the log.
func (RunAccepted) Type() string { return "RunAccepted" }

func (e RunAccepted) apply(s *State) {
	s.putRun(e.Run, e.Heat, e.Entry)
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}

// putRun makes a run count in a lane and lets the one that counted wait.
func (s *State) putRun(run RunID, heat HeatID, entry EntryID) {
	h := s.Heats[heat]
	i, in := h.Lane(entry)
	if !in {
		return
	}
	l := h.Lanes[i]
	if l.Counts != "" && l.Counts != run {
		s.setAside(l.Counts)
	}
	r := s.Runs[run]
	r.Heat, r.Entry, r.Waiting = heat, entry, WaitsNot
	s.Runs[run] = r
	l.Counts, l.Armed, l.Better, l.State, l.Status = run, "", "", LaneDone, StatusNone
	l.Deciding = false
	l.Bench = r.Bench // where it ran, for whoever looks at the lane
	s.Heats[heat] = h.withLane(i, l).ebbed()
}

func (s *State) setAside(run RunID) {
	r := s.Runs[run]
	r.Waiting = WaitsSetAside
	s.Runs[run] = r
}
