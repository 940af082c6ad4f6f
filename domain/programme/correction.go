package programme

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
)

// Correction is a numbered ruling that changed a result after it was official.
type Correction struct {
	Number int   `json:"number"` // from 1 in the order of the day
	AtUS   int64 `json:"at_us"`
}

// LaneCorrections are the corrections of a lane's result, oldest first. One that is
// about a whole heat is about each of its lanes.
func LaneCorrections(s *day.State, heat day.HeatID, entry day.EntryID) []Correction {
	return corrections(s).of(heat, entry)
}

// PlaceCorrections are those of an entry's place itself, oldest first: it was put out
// after the result was official, or taken in again.
func PlaceCorrections(s *day.State, entry day.EntryID) []Correction {
	return corrections(s).of("", entry)
}

// corrected are all corrections of a day, by what they are about.
type corrected map[correctedLane][]Correction

// correctedLane is a lane, a whole heat where it names no entry, and an entry's place in its
// division where it names no heat.
type correctedLane struct {
	heat  day.HeatID
	entry day.EntryID
}

// corrections costs a look at each ruling of the day.
func corrections(s *day.State) corrected {
	var out corrected
	for _, r := range s.Rulings {
		if r.Correction == 0 {
			continue
		}
		if out == nil {
			out = corrected{}
		}
		about := correctedLane{r.Heat, r.Entry}
		out[about] = append(out[about], Correction{r.Correction, r.AtUS})
	}
	return out
}

func (c corrected) of(heat day.HeatID, entry day.EntryID) []Correction {
	own, all := c[correctedLane{heat, entry}], c[correctedLane{heat, ""}]
	if len(all) == 0 {
		return own
	}
	return slices.SortedFunc(slices.Values(slices.Concat(own, all)), func(a, b Correction) int { return cmp.Compare(a.Number, b.Number) })
}
