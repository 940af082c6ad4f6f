package day

// MeetPlanned says what the day is to be.
type MeetPlanned struct {
	Plan  Plan  `json:"plan"`
	Rules Rules `json:"rules"`
}

// Type is the name in the log.
func (MeetPlanned) Type() string { return "MeetPlanned" }

func (e MeetPlanned) apply(s *State) {
	s.Planned, s.Plan, s.Rules = true, e.Plan, e.Rules
}

// RulesChanged says which rules stand from now on.
type RulesChanged struct {
	Rules Rules `json:"rules"`
}

// Type is the name in the log.
func (RulesChanged) Type() string { return "RulesChanged" }

func (e RulesChanged) apply(s *State) { s.Rules = e.Rules }
