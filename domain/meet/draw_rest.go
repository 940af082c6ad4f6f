package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// DrawRest draws the heats of a round anew that nobody has raced in, for the benches
// that are in service now: one has failed, or is back. What was raced stays. It is a
// ruling, and possible where the draw only deals the cars to heats.
type DrawRest struct {
	// Heat is one of the heats to be drawn again; all of its round are.
	Heat   day.HeatID
	Reason day.Reason
}

func (c DrawRest) decide(s *day.State, m Meta) ([]day.Event, error) {
	h, err := s.Heat(c.Heat)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	drawn, err := programme.DrawRest(s, s.Divisions[h.Division], h.Stage, h.Round, m.Seed)
	if err != nil {
		return nil, err
	}
	drawn.Ruled = ruled
	return []day.Event{drawn}, nil
}
