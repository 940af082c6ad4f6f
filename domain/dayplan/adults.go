package dayplan

import "benchmeet/domain/day"

// benchesEach is up to how many benches an adult looks after without anybody waiting for an
// adult: the usual lengths are of a hall with an adult to two or three benches.
const benchesEach = 2.5

// adultsPart is the part of calls and change-overs that waits for an adult: children are
// called, walk and carry their cars without one (common practice, not measured).
const adultsPart = 0.5

// Crowd is how many times as long calls and change-overs take because of the benches that
// each adult has: as long as usual up to two and a half benches an adult; beyond that the half
// that waits for an adult grows in proportion, for who has five benches comes to the last of
// them when the others are done. Three adults for ten benches is 1.17, two are 1.5. More adults than needed make nothing
// quicker: cars are put on by children. Common practice, not measured: once heats were seen
// it only says how much longer they take than with the adults of then. 1 where the number of
// adults is not known.
func Crowd(benches, adults int) float64 {
	if adults < 1 {
		return 1
	}
	return 1 + adultsPart*max(0, float64(benches)/(benchesEach*float64(adults))-1)
}

// crowdAt is that of an instant of the day, on the benches that are in service now.
func crowdAt(s *day.State, benches int, us int64) float64 {
	adults := s.Plan.Adults
	for _, a := range s.Adults {
		if a.AtUS <= us {
			adults = a.Adults
		}
	}
	return Crowd(benches, adults)
}
