package meet

import "benchmeet/domain/refusal"

// AcceptRun lets a waiting run count in a lane. The run that counted there, if
// any, waits from then on.
type AcceptRun struct {
	Run    RunID
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RunAccepted says that a waiting run counts in a lane.
type RunAccepted struct {
	Ruled
	Run   RunID   `json:"run"`
	Heat  HeatID  `json:"heat"`
	Entry EntryID `json:"entry"`
}

func (c AcceptRun) decide(s *State, m Meta) ([]Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	h, _, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Void:
		return nil, refusal.New("run-void", "run", r.ID)
	case held(s, r.ID, c.Heat, c.Entry):
		return nil, refusal.New("run-counts", "run", r.ID)
	case s.Entries[c.Entry].Disqualified:
		return nil, refusal.New("entry-out", "number", s.Number(c.Entry))
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return andPost(s, m, h.ID, RunAccepted{Ruled: ruled, Run: r.ID, Heat: h.ID, Entry: c.Entry}), nil
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

// held says whether a run counts in a lane, or may still count in another one
// than given as the better of two.
func held(s *State, run RunID, heat HeatID, entry EntryID) bool {
	r := s.Runs[run]
	h := s.Heats[r.Heat]
	i, in := h.Lane(r.Entry)
	if !in {
		return false
	}
	l := h.Lanes[i]
	return l.Counts == run || l.Decider == run || l.Better == run && (r.Heat != heat || r.Entry != entry)
}

func (s *State) setAside(run RunID) {
	r := s.Runs[run]
	r.Waiting = WaitsSetAside
	s.Runs[run] = r
}
