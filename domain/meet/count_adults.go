package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// CountAdults says how many adults run the benches now: the day is planned with them.
type CountAdults struct{ Adults int }

func (c CountAdults) decide(s *day.State, m Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if c.Adults < 1 || c.Adults > day.MostAdults {
		return nil, refusal.New("adults", "most", day.MostAdults)
	}
	if c.Adults == s.AdultsNow() {
		return nil, nil
	}
	return []day.Event{day.AdultsCounted{By: m.Actor, Adults: c.Adults}}, nil
}
