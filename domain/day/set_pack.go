package day

// setPack puts a pack in its place.
func (s *State) setPack(p Pack) { s.Packs[p.ID] = p }
