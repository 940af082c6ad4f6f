package meet

import "benchmeet/domain/refusal"

// EndProgramme ends a division before its last round: the hall closes, or too few
// cars are left. What was raced stands, and the standings as they are become the
// final ones. It is a ruling, and the round under way is closed first.
type EndProgramme struct {
	Division DivisionID
	Reason   Reason
}

// ProgrammeEnded says that a division races no more.
type ProgrammeEnded struct {
	Ruled
	Division DivisionID `json:"division"`
}

func (c EndProgramme) decide(s *State, m Meta) ([]Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	if Through(s, d) {
		return nil, refusal.New("programme-over", "division", d.ID)
	}
	stage, round := s.Programmes[d.ID].Round()
	if last, drawn := s.Programmes[d.ID].Current(); drawn && !last.Closed {
		return nil, refusal.New("round-open", "division", d.ID, "stage", stage, "round", round)
	}
	return []Event{ProgrammeEnded{Ruled: ruled, Division: d.ID}}, nil
}

// Through says whether a division has no further round: it raced them all,
// or was ended.
func Through(s *State, d Division) bool {
	return s.Programmes[d.ID].EndedEarly || stageDone(s, d, len(d.Stages))
}

// Type is the name in the log.
func (ProgrammeEnded) Type() string { return "ProgrammeEnded" }

func (e ProgrammeEnded) apply(s *State) {
	p := s.Programmes[e.Division]
	p.EndedEarly, p.EntriesClosed = true, true
	s.Programmes[e.Division] = p
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Division})
}
