package day

// PlanChanged says what the day is to be from now on.
type PlanChanged struct {
	Plan Plan `json:"plan"`
}

// Type is the name in the log.
func (PlanChanged) Type() string { return "PlanChanged" }

func (e PlanChanged) apply(s *State) { s.Plan = e.Plan }
