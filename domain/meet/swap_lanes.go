package meet

import "benchmeet/domain/refusal"

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
	h, a, err := s.HeatLane(c.Heat, c.A)
	if err != nil {
		return nil, err
	}
	_, b, err := s.HeatLane(c.Heat, c.B)
	if err != nil {
		return nil, err
	}
	if a == b || h.Lanes[a].Counts == "" || h.Lanes[b].Counts == "" {
		return nil, refusal.New("swap-needs-runs", "heat", h.ID)
	}
	ruled, err := ruledBy(s, m, c.Reason, h)
	if err != nil {
		return nil, err
	}
	return andPost(s, m, h.ID, LanesSwapped{Ruled: ruled, Heat: h.ID, A: c.A, B: c.B}), nil
}

// Type is the name in the log.
func (LanesSwapped) Type() string { return "LanesSwapped" }

func (e LanesSwapped) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane { return l })
	a, inA := h.Lane(e.A)
	b, inB := h.Lane(e.B)
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
