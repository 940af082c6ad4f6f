package day

// ProtestRuled says that a protest was decided.
type ProtestRuled struct {
	Ruled
	ID     ProtestID `json:"id"`
	Upheld bool      `json:"upheld"`
}

// Type is the name in the log.
func (ProtestRuled) Type() string { return "ProtestRuled" }

func (e ProtestRuled) apply(s *State) {
	p := s.Protests[e.ID]
	s.rule(e.Type(), e.Ruled, Ruling{Heat: p.Heat, Entry: p.Entry})
	p.Ruled, p.Upheld, p.RuledUS, p.Ruling = true, e.Upheld, s.TimeUS, len(s.Rulings)
	s.Protests[e.ID] = p
}
