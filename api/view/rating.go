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
		line := gen.Rating{
			Entrant: string(r.Entrant), Class: r.Class, DisplayName: wire.Opt(names.displayAt(string(r.Entrant), shown{inResults: true})),
			Rating: wire.Thousandths(r.Milli), Deviation: wire.Thousandths(r.DeviationMilli), Volatility: float64(r.VolatilityNano) / 1e9,
			Games: r.Games, Meets: r.Meets, Last: r.Last,
		}
		if p, there := names.Person(string(r.Entrant)); there {
			line.Name = wire.Opt(p.Name)
		}
		out.Ratings = append(out.Ratings, line)
	}
	return out
}
