package day

// ProgrammeEnded says that a division races no more.
type ProgrammeEnded struct {
	Ruled
	Division DivisionID `json:"division"`
}

// Type is the name in the log.
func (ProgrammeEnded) Type() string { return "ProgrammeEnded" }

func (e ProgrammeEnded) apply(s *State) {
	p := s.Programmes[e.Division]
	p.EndedEarly, p.EntriesClosed, p.SteppedUS = true, true, s.TimeUS
	s.Programmes[e.Division] = p
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Division})
}
