package day

// Stranded are the lanes of a called heat whose bench is out of service: they cannot
// start there.
func (s *State) Stranded(h Heat) []Lane {
	var out []Lane
	for _, l := range h.Lanes {
		if h.Phase == PhaseCalled && OneOf(l.State, LaneCalled, LaneReady) && s.Benches[l.Bench].OutOfService {
			out = append(out, l)
		}
	}
	return out
}
