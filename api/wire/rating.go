package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/club"
)

// ShowRating shows a rating without the names behind it.
func ShowRating(r club.Rating) gen.Rating {
	return gen.Rating{
		Entrant: string(r.Entrant), Class: r.Class, Rating: Thousandths(r.Milli), Deviation: Thousandths(r.DeviationMilli),
		Volatility: float64(r.VolatilityNano) / 1e9, Games: r.Games, Meets: r.Meets, Last: r.Last,
	}
}
