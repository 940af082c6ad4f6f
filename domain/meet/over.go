package meet

// Over says whether the meet needs no bench any more: every division's results
// are published and nothing is left to race. A meet without divisions is not
// over, it has not begun.
func (s *State) Over() bool {
	if len(s.Divisions) == 0 {
		return false
	}
	for id := range s.Divisions {
		if len(s.Programmes[s.Host(id)].Published) == 0 {
			return false
		}
	}
	for _, h := range s.Heats {
		if !h.posted() {
			return false
		}
	}
	return true
}
