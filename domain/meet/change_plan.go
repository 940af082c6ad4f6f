package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// ChangePlan replaces the plan. Once a division is drawn, the date and the date
// at which ages are taken stay: entries were judged by them.
type ChangePlan struct {
	Plan day.Plan
	// Edition is what the save rests on, see [day.CheckEdition].
	Edition string
}

func (c ChangePlan) decide(s *day.State, _ Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if err := c.Plan.Check(); err != nil {
		return nil, err
	}
	if c.Plan.Edition() == s.Plan.Edition() {
		return nil, nil
	}
	if err := day.CheckEdition(c.Edition, s.Plan.Edition()); err != nil {
		return nil, err
	}
	moved := c.Plan.Date != s.Plan.Date || c.Plan.AgeOn() != s.Plan.AgeOn()
	for _, p := range s.Programmes {
		if stage, _ := p.Round(); moved && stage > 0 {
			return nil, refusal.New("plan-drawn", "date", s.Plan.Date)
		}
	}
	return []day.Event{day.PlanChanged{Plan: c.Plan}}, nil
}
