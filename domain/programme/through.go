package programme

import "benchmeet/domain/day"

// Through says whether a division has no further round: it raced them all,
// or was ended.
func Through(s *day.State, d day.Division) bool {
	return s.Programmes[d.ID].EndedEarly || stageDone(s, d, len(d.Stages))
}
