package meet

import (
	"fmt"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// likelyCount asks back where a counted distance is one that no car has run here: more
// than five times the longest, or less than an eighth of the shortest of the runs of the
// same length in its division, as a slipped decimal point makes it; but is the run that is
// counted again. Before the first run nothing is known, and a car that did not move has 0.
func likelyCount(s *day.State, h day.Heat, but day.RunID, um int64) error {
	d := s.Divisions[h.Division]
	raceUS := d.Stages[h.Stage-1].RaceUS
	shortest, longest, known := int64(0), int64(0), false
	for _, r := range s.Runs {
		of := s.Heats[r.Heat]
		if r.ID == but || of.Division != h.Division || d.Stages[of.Stage-1].RaceUS != raceUS || !s.Counting(r) || r.Figures.DistanceUM <= 0 {
			continue
		}
		if !known || r.Figures.DistanceUM < shortest {
			shortest = r.Figures.DistanceUM
		}
		longest, known = max(longest, r.Figures.DistanceUM), true
	}
	if known && (um > 5*longest || um > 0 && 8*um < shortest) {
		return refusal.New("hand-unlike", "m", metres(um), "from", metres(shortest), "to", metres(longest))
	}
	return nil
}

func metres(um int64) string { return fmt.Sprintf("%d.%01d", um/1_000_000, um%1_000_000/100_000) }
