package day

// HeatCalledOff says that a call was taken back.
type HeatCalledOff struct {
	Heat   HeatID     `json:"heat"`
	By     string     `json:"by"`
	Reason ReasonCode `json:"reason"`
}

// Type is the name in the log.
func (HeatCalledOff) Type() string { return "HeatCalledOff" }

func (e HeatCalledOff) apply(s *State) {
	h := s.Heats[e.Heat].withLanes(func(_ int, l Lane) Lane {
		if l.State != LaneDone {
			l.State, l.Armed, l.Bench, l.Pack = LaneWaiting, "", "", ""
		}
		return l
	})
	h.Phase, h.DeadlineUS = PhaseDrawn, 0
	s.Heats[e.Heat] = h
}
