package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
)

// Ratings are the ratings of a club with the names behind them, for officials.
func Ratings(s *club.State, names Names) gen.RatingList {
	out := gen.RatingList{Ratings: []gen.Rating{}}
	for _, r := range s.Ratings() {
		line := wire.ShowRating(r)
		line.DisplayName = wire.Opt(names.displayAt(string(r.Entrant), shown{inResults: true}))
		if p, there := names.Person(string(r.Entrant)); there {
			line.Name = wire.Opt(p.Name)
		}
		out.Ratings = append(out.Ratings, line)
	}
	return out
}
