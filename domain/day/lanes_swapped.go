package day

// LanesSwapped says that two lanes of a heat exchanged their runs.
type LanesSwapped struct {
	Ruled
	Heat HeatID  `json:"heat"`
	A    EntryID `json:"a"`
	B    EntryID `json:"b"`
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
