package club

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/rating"
	"benchmeet/domain/refusal"
)

// RatingPeriod is a division of a meet as it was rated. The ratings after it are
// kept in whole numbers, so that a rebuilt state is the same everywhere.
type RatingPeriod struct {
	Meet     string         `json:"meet"`
	Division day.DivisionID `json:"division"`
	Class    string         `json:"class"` // of the cars
	// Number is that of the publication, from 1; a later one corrects it.
	Number  int                   `json:"number"`
	Games   []programme.RatedGame `json:"games"`
	Ratings []EntrantRating       `json:"ratings"`
}

// EntrantRating is an entrant's rating after a period.
type EntrantRating struct {
	Entrant day.EntrantID `json:"entrant"`
	rating.Kept
}

// Rating is how strong an entrant is with cars of a class, as far as is known.
type Rating struct {
	Entrant day.EntrantID
	Class   string
	rating.Kept
	// Games is how many races the rating stands on, Meets how many meets; Last is the
	// newest of them.
	Games, Meets int
	Last         string
}

// Ratings are the ratings of all classes, the highest of a class first. Those of
// erased people are left out: nobody is behind them any more.
func (s *State) Ratings() []Rating {
	type key struct {
		entrant day.EntrantID
		class   string
	}
	all := map[key]Rating{}
	for _, p := range s.Periods {
		raced := map[day.EntrantID]int{}
		for _, g := range p.Games {
			raced[g.A]++
			raced[g.B]++
		}
		for _, r := range p.Ratings {
			k := key{r.Entrant, p.Class}
			line := all[k]
			if line.Last != p.Meet {
				line.Meets++
			}
			line.Entrant, line.Class, line.Kept, line.Last = r.Entrant, p.Class, r.Kept, p.Meet
			line.Games += raced[r.Entrant]
			all[k] = line
		}
	}
	maps.DeleteFunc(all, func(k key, _ Rating) bool { _, erased := s.Erased[k.entrant]; return erased })
	return slices.SortedFunc(maps.Values(all), func(a, b Rating) int {
		return cmp.Or(cmp.Compare(a.Class, b.Class), cmp.Compare(b.Milli, a.Milli), cmp.Compare(a.Entrant, b.Entrant))
	})
}

// tau bounds the change of the volatility; 0.5 is Glickman's example.
const tau = 0.5

// mostDeviation is the deviation of somebody unknown: idle meets make nobody less
// known than that.
const mostDeviation = 350

// ratedBefore is an entrant's rating before a period: that of the last period
// with cars of the class, grown in deviation for each meet of the class since that
// the entrant missed; a new one without any.
func (s *State) ratedBefore(at int, entrant day.EntrantID) rating.Rating {
	now := s.Periods[at]
	idle := map[string]bool{}
	for i := at - 1; i >= 0; i-- {
		p := s.Periods[i]
		if p.Class != now.Class {
			continue
		}
		for _, r := range p.Ratings {
			if r.Entrant == entrant {
				delete(idle, p.Meet)
				return grown(r.Rating(), len(idle))
			}
		}
		if p.Meet != now.Meet {
			idle[p.Meet] = true
		}
	}
	return rating.New()
}

// grown is step 6 of Glicko-2 for periods without a game.
func grown(r rating.Rating, periods int) rating.Rating {
	for range periods {
		next, err := rating.Update(r, nil, tau)
		if err != nil {
			return r
		}
		r = next
	}
	r.Deviation = min(r.Deviation, mostDeviation)
	return r
}

// rate computes the ratings after a period, by entrant.
func (s *State) rate(at int) ([]EntrantRating, error) {
	p := s.Periods[at]
	before := map[day.EntrantID]rating.Rating{}
	games := map[day.EntrantID][]rating.Game{}
	for _, g := range p.Games {
		for _, id := range []day.EntrantID{g.A, g.B} {
			if _, known := before[id]; !known {
				before[id] = s.ratedBefore(at, id)
			}
		}
		score := float64(g.Score) / 2
		games[g.A] = append(games[g.A], rating.Game{Opponent: before[g.B], Score: score})
		games[g.B] = append(games[g.B], rating.Game{Opponent: before[g.A], Score: 1 - score})
	}
	out := []EntrantRating{}
	for _, id := range slices.Sorted(maps.Keys(games)) {
		after, err := rating.Update(before[id], games[id], tau)
		if err != nil {
			return nil, refusal.New("rating-far", "meet", p.Meet)
		}
		after.Deviation = min(after.Deviation, mostDeviation)
		out = append(out, EntrantRating{Entrant: id, Kept: after.Keep()})
	}
	return out, nil
}
