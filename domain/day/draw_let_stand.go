package day

// DrawLetStand says that an outdated draw stands.
type DrawLetStand struct {
	Ruled
	Division DivisionID `json:"division"`
	// Sum is of what would be drawn otherwise, so that a further change is said.
	Sum string `json:"sum"`
}

// Type is the name in the log.
func (DrawLetStand) Type() string { return "DrawLetStand" }

func (e DrawLetStand) apply(s *State) {
	p := s.Programmes[e.Division]
	p.LetStand = e.Sum
	s.Programmes[e.Division] = p
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Division})
}
