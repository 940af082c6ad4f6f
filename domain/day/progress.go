package day

// Counting says whether a run is the result of its lane.
func (s *State) Counting(r Run) bool {
	if r.Void || r.Waiting != WaitsNot {
		return false
	}
	i, in := s.Heats[r.Heat].Lane(r.Entry)
	return in && s.Heats[r.Heat].Lanes[i].Counts == r.ID
}
