package programme

import (
	"slices"

	"benchmeet/domain/day"
)

// LanesToRace lists the lanes of a heat that still have to race and can stand at benches
// at the same time: all, but of entries that share a car the first. A knockout can draw
// siblings against each other; they run one after the other, with a call for each.
func LanesToRace(s *day.State, h day.Heat) []int {
	var out []int
	var cars []day.CarID
	for i, l := range h.Lanes {
		car := s.Entries[l.Entry].Car
		if l.State != day.LaneDone && !slices.Contains(cars, car) {
			out, cars = append(out, i), append(cars, car)
		}
	}
	return out
}

// TooWide says whether a heat that is to be called has more lanes to race than benches
// are in service, so that somebody has to say how it is raced. A heat of a stage that
// was drawn as a whole is called for as many as there are benches without being asked.
func TooWide(s *day.State, h day.Heat) bool {
	_, whole := TreeOf(s, h)
	benches := len(BenchesInService(s))
	return h.Phase == day.PhaseDrawn && !whole && benches > 0 && len(LanesToRace(s, h)) > benches
}
