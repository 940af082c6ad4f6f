package meet

import "benchmeet/domain/refusal"

// ChangePlan replaces the plan. Once a division is drawn, the date and the date
// at which ages are taken stay: entries were judged by them.
type ChangePlan struct {
	Plan Plan
}

// PlanChanged says what the day is to be from now on.
type PlanChanged struct {
	Plan Plan `json:"plan"`
}

func (c ChangePlan) decide(s *State, _ Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if err := c.Plan.Check(); err != nil {
		return nil, err
	}
	if c.Plan == s.Plan {
		return nil, nil
	}
	moved := c.Plan.Date != s.Plan.Date || c.Plan.AgeOn() != s.Plan.AgeOn()
	for _, p := range s.Programmes {
		if stage, _ := p.Round(); moved && stage > 0 {
			return nil, refusal.New("plan-drawn", "date", s.Plan.Date)
		}
	}
	return []Event{PlanChanged(c)}, nil
}

// Type is the name in the log.
func (PlanChanged) Type() string { return "PlanChanged" }

func (e PlanChanged) apply(s *State) { s.Plan = e.Plan }
