package programme

import "benchmeet/domain/day"

// Over says whether the meet needs no bench any more: every division's results
// are published and nothing is left to race. A meet without divisions is not
// over, it has not begun.
func Over(s *day.State) bool {
	if len(s.Divisions) == 0 {
		return false
	}
	for id := range s.Divisions {
		if len(s.Programmes[Host(s, id)].Published) == 0 {
			return false
		}
	}
	for _, h := range s.Heats {
		if !h.Posted() {
			return false
		}
	}
	return true
}
