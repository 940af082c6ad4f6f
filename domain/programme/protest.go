package programme

import "benchmeet/domain/day"

// OpenProtest finds an undecided protest against one of the heats.
func OpenProtest(s *day.State, heats []day.HeatID) (day.ProtestID, bool) {
	found, first := false, day.ProtestID("")
	for id, p := range s.Protests {
		if !p.Ruled && day.OneOf(p.Heat, heats...) && (!found || id < first) {
			found, first = true, id
		}
	}
	return first, found
}
