package meet

import (
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// PlanMeet makes the meet, once. Rules are set with it and changed by
// ChangeRules.
type PlanMeet struct {
	Plan  day.Plan
	Rules day.Rules
}

func (c PlanMeet) decide(s *day.State, _ Meta) ([]day.Event, error) {
	if s.Planned {
		return nil, refusal.New("planned")
	}
	if err := c.Plan.Check(); err != nil {
		return nil, err
	}
	if err := c.Rules.Check(); err != nil {
		return nil, err
	}
	return []day.Event{day.MeetPlanned(c)}, nil
}

// ChangeRules replaces the rules before the first heat is called.
type ChangeRules struct {
	Rules day.Rules
	// Edition is what the save rests on, see [day.CheckEdition].
	Edition string
}

func (c ChangeRules) decide(s *day.State, _ Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if board.RulesFixed(s) {
		return nil, refusal.New("rules-fixed")
	}
	if err := c.Rules.Check(); err != nil {
		return nil, err
	}
	if c.Rules.Edition() != s.Rules.Edition() {
		if err := day.CheckEdition(c.Edition, s.Rules.Edition()); err != nil {
			return nil, err
		}
	}
	return []day.Event{day.RulesChanged{Rules: c.Rules}}, nil
}
