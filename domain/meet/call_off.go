package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// CallOff takes back a call before the start.
type CallOff struct {
	Heat   day.HeatID
	Reason day.Reason
}

func (c CallOff) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	if h.Phase != day.PhaseCalled {
		return nil, refusal.New("not-called", "heat", h.ID)
	}
	return andDecider(s, m, h.ID, day.HeatCalledOff{Heat: h.ID, By: m.Actor, Reason: c.Reason.Code}), nil
}
