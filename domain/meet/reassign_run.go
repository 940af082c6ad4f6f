package meet

import "benchmeet/domain/refusal"

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
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	to, _, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	from, i, err := s.HeatLane(r.Heat, r.Entry)
	if err != nil || r.Waiting != WaitsNot || from.Lanes[i].Counts != r.ID {
		return nil, refusal.New("run-not-counting", "run", r.ID)
	}
	switch {
	case r.Heat == c.Heat && r.Entry == c.Entry:
		return nil, nil
	case s.Entries[c.Entry].Disqualified:
		return nil, refusal.New("entry-out", "number", s.Number(c.Entry))
	case from.Phase == PhaseCalled || from.Phase == PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", from.ID)
	case to.Phase == PhaseCalled || to.Phase == PhaseRacing:
		return nil, refusal.New("rerun-racing", "heat", to.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason, from, to)
	if err != nil {
		return nil, err
	}
	return andPostAll(s, m, []Heat{from, to}, RunReassigned{
		Ruled: ruled, Run: r.ID, FromHeat: r.Heat, FromEntry: r.Entry, Heat: c.Heat, Entry: c.Entry,
	}), nil
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
