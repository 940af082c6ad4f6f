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
	r, err := s.run(c.Run)
	if err != nil {
		return nil, err
	}
	h, _, err := s.heatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Void:
		return nil, refusal.New("run-void", "run", r.ID)
	case r.Waiting == WaitsNot:
		return nil, refusal.New("run-counts", "run", r.ID)
	case !s.Entries[c.Entry].Racing():
		return nil, refusal.New("entry-out", "number", s.number(c.Entry))
	}
	ruled, err := s.ruled(m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return s.andPost(m, h.ID, RunAccepted{Ruled: ruled, Run: r.ID, Heat: h.ID, Entry: c.Entry}), nil
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
	i, in := h.lane(entry)
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
	s.Heats[heat] = h.withLane(i, l)
}

func (s *State) setAside(run RunID) {
	r := s.Runs[run]
	r.Waiting = WaitsSetAside
	s.Runs[run] = r
}

// SetRunAside says of a waiting run that it will not count: somebody tried the
// bench, or the car ran by mistake.
type SetRunAside struct {
	Run    RunID
	Reason Reason
}

// RunSetAside says that a run will not count.
type RunSetAside struct {
	Ruled
	Run RunID `json:"run"`
}

func (c SetRunAside) decide(s *State, m Meta) ([]Event, error) {
	r, err := s.run(c.Run)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Void:
		return nil, nil
	case r.Waiting == WaitsNot:
		return nil, refusal.New("run-counts", "run", r.ID)
	}
	ruled, err := s.ruled(m, c.Reason)
	if err != nil {
		return nil, err
	}
	return []Event{RunSetAside{Ruled: ruled, Run: r.ID}}, nil
}

// Type is the name in the log.
func (RunSetAside) Type() string { return "RunSetAside" }

func (e RunSetAside) apply(s *State) {
	r := s.Runs[e.Run]
	r.Void = true
	s.Runs[e.Run] = r
	s.rule(e.Type(), e.Ruled, Ruling{Run: e.Run, Heat: r.Heat, Entry: r.Entry})
}

// ReassignRun moves a counting run from its lane to another entry's lane, in the
// same heat or another: the wrong car stood there. The lane that it leaves has
// to race, unless another ruling follows.
type ReassignRun struct {
	Run    RunID
	Heat   HeatID
	Entry  EntryID
	Reason Reason
}

// RunReassigned says that a run counts for another entry.
type RunReassigned struct {
	Ruled
	Run       RunID   `json:"run"`
	FromHeat  HeatID  `json:"from_heat"`
	FromEntry EntryID `json:"from_entry"`
	Heat      HeatID  `json:"heat"`
	Entry     EntryID `json:"entry"`
}

func (c ReassignRun) decide(s *State, m Meta) ([]Event, error) {
	r, err := s.run(c.Run)
	if err != nil {
		return nil, err
	}
	to, _, err := s.heatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	from, i, err := s.heatLane(r.Heat, r.Entry)
	if err != nil || r.Waiting != WaitsNot || from.Lanes[i].Counts != r.ID {
		return nil, refusal.New("run-not-counting", "run", r.ID)
	}
	switch {
	case r.Heat == c.Heat && r.Entry == c.Entry:
		return nil, nil
	case !s.Entries[c.Entry].Racing():
		return nil, refusal.New("entry-out", "number", s.number(c.Entry))
	case from.Phase == PhaseCalled || from.Phase == PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", from.ID)
	case to.Phase == PhaseCalled || to.Phase == PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", to.ID)
	}
	ruled, err := s.ruled(m, c.Reason, from, to)
	if err != nil {
		return nil, err
	}
	return s.andPost(m, to.ID, RunReassigned{
		Ruled: ruled, Run: r.ID, FromHeat: r.Heat, FromEntry: r.Entry, Heat: c.Heat, Entry: c.Entry,
	}), nil
}

// Type is the name in the log.
func (RunReassigned) Type() string { return "RunReassigned" }

func (e RunReassigned) apply(s *State) {
	from := s.Heats[e.FromHeat]
	if i, in := from.lane(e.FromEntry); in {
		l := from.Lanes[i]
		l.Counts, l.State, l.Bench = "", LaneWaiting, ""
		from = from.withLane(i, l)
		from.Phase, from.ProtestUntilUS = PhaseDrawn, 0
		s.Heats[e.FromHeat] = from
	}
	s.putRun(e.Run, e.Heat, e.Entry)
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.Entry, Run: e.Run})
}

// SwapLanes exchanges the runs of two lanes of a heat: both cars stood at each
// other's bench.
type SwapLanes struct {
	Heat   HeatID
	A, B   EntryID
	Reason Reason
}

// LanesSwapped says that two lanes of a heat exchanged their runs.
type LanesSwapped struct {
	Ruled
	Heat HeatID  `json:"heat"`
	A    EntryID `json:"a"`
	B    EntryID `json:"b"`
}

func (c SwapLanes) decide(s *State, m Meta) ([]Event, error) {
	h, a, err := s.heatLane(c.Heat, c.A)
	if err != nil {
		return nil, err
	}
	_, b, err := s.heatLane(c.Heat, c.B)
	if err != nil {
		return nil, err
	}
	if a == b || h.Lanes[a].Counts == "" || h.Lanes[b].Counts == "" {
		return nil, refusal.New("swap-needs-runs", "heat", h.ID)
	}
	ruled, err := s.ruled(m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return []Event{LanesSwapped{Ruled: ruled, Heat: h.ID, A: c.A, B: c.B}}, nil
}

// Type is the name in the log.
func (LanesSwapped) Type() string { return "LanesSwapped" }

func (e LanesSwapped) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane { return l })
	a, inA := h.lane(e.A)
	b, inB := h.lane(e.B)
	if !inA || !inB {
		return
	}
	la, lb := h.Lanes[a], h.Lanes[b]
	la.Counts, lb.Counts = lb.Counts, la.Counts
	la.Bench, lb.Bench = lb.Bench, la.Bench
	h.Lanes[a], h.Lanes[b] = la, lb
	s.Heats[e.Heat] = h
	for _, l := range []Lane{la, lb} {
		r := s.Runs[l.Counts]
		r.Entry = l.Entry
		s.Runs[l.Counts] = r
	}
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat, Entry: e.A})
}
