package programme

import (
	"slices"

	"benchmeet/domain/day"
)

// PublishedIsOld says whether a division's standings, or a result in them, were
// corrected after they were published last.
func PublishedIsOld(s *day.State, d day.DivisionID) bool {
	published := s.Programmes[d].Published
	if len(published) == 0 {
		return false
	}
	last := published[len(published)-1]
	for _, r := range s.Rulings {
		about := r.Div
		if r.Heat != "" {
			about = s.Heats[r.Heat].Division
		}
		if about == d && r.Correction > 0 && r.Number > last.Rulings {
			return true
		}
	}
	return !slices.Equal(last.Ranks, PlacesNow(s, d))
}

// PlacesNow is a division's table as it is published.
func PlacesNow(s *day.State, d day.DivisionID) []day.Placed {
	out := []day.Placed{}
	for _, line := range Standings(s, d) {
		out = append(out, day.Placed{Rank: line.Rank, Entry: line.Entry})
	}
	return out
}
