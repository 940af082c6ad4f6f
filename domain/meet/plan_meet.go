package meet

import "benchmeet/domain/refusal"

// PlanMeet makes the meet, once. Rules are set with it and changed by
// ChangeRules.
type PlanMeet struct {
	Plan  Plan
	Rules Rules
}

// MeetPlanned says what the day is to be.
type MeetPlanned struct {
	Plan  Plan  `json:"plan"`
	Rules Rules `json:"rules"`
}

func (c PlanMeet) decide(s *State, _ Meta) ([]Event, error) {
	if s.Planned {
		return nil, refusal.New("planned")
	}
	if err := c.Plan.Check(); err != nil {
		return nil, err
	}
	if err := c.Rules.Check(); err != nil {
		return nil, err
	}
	return []Event{MeetPlanned(c)}, nil
}

// Type is the name in the log.
func (MeetPlanned) Type() string { return "MeetPlanned" }

func (e MeetPlanned) apply(s *State) {
	s.Planned, s.Plan, s.Rules = true, e.Plan, e.Rules
}

// ChangeRules replaces the rules before the first heat is called.
type ChangeRules struct {
	Rules Rules
}

// RulesChanged says which rules stand from now on.
type RulesChanged struct {
	Rules Rules `json:"rules"`
}

func (c ChangeRules) decide(s *State, _ Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	for _, h := range s.Heats {
		if h.Begun() {
			return nil, refusal.New("rules-fixed")
		}
	}
	if err := c.Rules.Check(); err != nil {
		return nil, err
	}
	return []Event{RulesChanged(c)}, nil
}

// Type is the name in the log.
func (RulesChanged) Type() string { return "RulesChanged" }

func (e RulesChanged) apply(s *State) { s.Rules = e.Rules }
