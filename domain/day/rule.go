package day

// rule notes a ruling in the state.
func (s *State) rule(kind string, r Ruled, about Ruling) {
	about.Number = len(s.Rulings) + 1
	about.Kind, about.By, about.AtUS = kind, r.By, s.TimeUS
	about.Reason, about.Correction = r.Reason, r.Correction
	s.Rulings = append(s.Rulings[:len(s.Rulings):len(s.Rulings)], about)
	if r.Correction > s.Corrections {
		s.Corrections = r.Correction
	}
}
