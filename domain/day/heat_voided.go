package day

// HeatVoided says that a heat's runs do not count and it is raced again.
type HeatVoided struct {
	Ruled
	Heat HeatID `json:"heat"`
}

// Type is the name in the log.
func (HeatVoided) Type() string { return "HeatVoided" }

func (e HeatVoided) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane {
		for _, run := range []RunID{l.Counts, l.Better, l.Decider} {
			if r, there := s.Runs[run]; there {
				r.Void = true
				s.Runs[run] = r
			}
		}
		l.Better, l.PenaltyUM = "", 0
		return s.toRace(l)
	})
	h.Phase, h.DeadlineUS, h.ProtestUntilUS, h.StartedUS = PhaseDrawn, 0, 0, 0
	s.Heats[e.Heat] = h
	s.rule(e.Type(), e.Ruled, Ruling{Heat: e.Heat})
}
