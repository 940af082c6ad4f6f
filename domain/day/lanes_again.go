package day

// reopened is a heat in which a lane has to race again. A car that had a
// walkover has no run to stand on and races too.
func (s *State) reopened(h Heat) Heat {
	h.Phase, h.DeadlineUS, h.ProtestUntilUS = PhaseDrawn, 0, 0
	return h.withLanes(func(_ int, l Lane) Lane {
		if l.State == LaneDone && l.Counts == "" && l.Status == StatusNone {
			l = s.toRace(l)
		}
		return l
	})
}

// toRace is a lane without a run that has to race, unless its entry takes no
// further part.
func (s *State) toRace(l Lane) Lane {
	l.Counts, l.Armed, l.Bench, l.Pack, l.Allowed = "", "", "", "", false
	l.State, l.Status = LaneWaiting, StatusNone
	l.Deciding, l.Decided, l.Decider = false, false, ""
	if out := s.Entries[l.Entry].StatusOut(); out != StatusNone {
		l.State, l.Status = LaneDone, out
	}
	return l
}
