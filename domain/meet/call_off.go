package meet

import "benchmeet/domain/refusal"

// CallOff takes back a call before the start.
type CallOff struct {
	Heat   HeatID
	Reason Reason
}

// HeatCalledOff says that a call was taken back.
type HeatCalledOff struct {
	Heat   HeatID     `json:"heat"`
	By     string     `json:"by"`
	Reason ReasonCode `json:"reason"`
}

func (c CallOff) decide(s *State, m Meta) ([]Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	if h.Phase != PhaseCalled {
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	return andDecider(s, m, h.ID, HeatCalledOff{h.ID, m.Actor, c.Reason.Code}), nil
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
