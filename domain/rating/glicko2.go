// Package rating keeps a figure of strength for each entrant in each car class from meet to meet, by the Glicko-2
// system, so that draws can be seeded before anybody has run. A rating serves seeding only; no place depends on it.
//
// Computing is float work done once, when a meet is rated; what is kept is the rounded [Kept], in whole numbers, so
// that a rebuilt state is the same on every platform.
package rating

import (
	"errors"
	"fmt"
	"math"
)

// Rating is a strength with its uncertainty.
type Rating struct {
	// Value is the rating: 1500 for somebody unknown.
	Value float64
	// Deviation is its standard deviation: 350 for somebody unknown.
	Deviation float64
	// Volatility is how much the strength is expected to change between meets; 0.06 to begin with.
	Volatility float64
}

// New returns the rating of somebody unknown (Glickman's usual start).
func New() Rating { return Rating{Value: 1500, Deviation: 350, Volatility: 0.06} }

// Kept is a rating in whole numbers, as events hold it.
type Kept struct {
	// Milli and DeviationMilli are thousandths of a point.
	Milli          int64 `json:"milli"`
	DeviationMilli int64 `json:"deviation_milli"`
	// VolatilityNano is in thousand-millionths.
	VolatilityNano int64 `json:"volatility_nano"`
}

// Keep rounds the rating.
func (r Rating) Keep() Kept {
	return Kept{
		Milli:          int64(math.Round(r.Value * 1e3)),
		DeviationMilli: int64(math.Round(r.Deviation * 1e3)),
		VolatilityNano: int64(math.Round(r.Volatility * 1e9)),
	}
}

// Rating returns the kept rating for computing.
func (k Kept) Rating() Rating {
	return Rating{Value: float64(k.Milli) / 1e3, Deviation: float64(k.DeviationMilli) / 1e3, Volatility: float64(k.VolatilityNano) / 1e9}
}

// Game is a race against one opponent, whose rating is that from before the meet.
type Game struct {
	Opponent Rating
	// Score is 1 for a win, 0.5 for a draw and 0 for a loss.
	Score float64
}

// ErrInput is returned for figures that no rating can have.
var ErrInput = errors.New("rating out of range")

const (
	scale   = 173.7178 // points of the usual scale to one of Glicko-2
	epsilon = 1e-6     // convergence of the volatility
)

// Update returns the rating after a rating period, which here is a meet, of these games. Tau bounds the change of
// the volatility and is usually from 0.3 to 1.2. Without games only the deviation grows. The cost is linear in the
// games. It returns ErrInput where a figure is not finite or a deviation, volatility, tau or score is out of range.
//
// Source: M. E. Glickman, "Example of the Glicko-2 system" (2022); steps and symbols are his.
func Update(r Rating, games []Game, tau float64) (Rating, error) {
	if err := check(r, games, tau); err != nil {
		return Rating{}, err
	}
	// Step 2: to the scale of Glicko-2.
	mu, phi := (r.Value-1500)/scale, r.Deviation/scale
	if len(games) == 0 {
		r.Deviation = scale * math.Hypot(phi, r.Volatility)
		return r, nil
	}
	// Steps 3 and 4: the variance from the games alone, and the improvement that they speak for.
	var inverse, sum float64
	for _, game := range games {
		muJ, phiJ := (game.Opponent.Value-1500)/scale, game.Opponent.Deviation/scale
		gJ := g(phiJ)
		e := expected(mu, muJ, gJ)
		inverse += gJ * gJ * e * (1 - e)
		sum += gJ * (game.Score - e)
	}
	v := 1 / inverse
	delta := v * sum
	// Steps 5 to 7: the new volatility, deviation and rating.
	sigma := volatility(delta, phi, v, r.Volatility, tau)
	phiStar := math.Hypot(phi, sigma)
	phiNew := 1 / math.Sqrt(1/(phiStar*phiStar)+inverse)
	muNew := mu + phiNew*phiNew*sum
	return Rating{Value: scale*muNew + 1500, Deviation: scale * phiNew, Volatility: sigma}, nil
}

// check keeps figures within bounds in which all steps are finite: further apart than this nobody can be rated.
func check(r Rating, games []Game, tau float64) error {
	fits := func(r Rating) bool {
		return math.Abs(r.Value) <= 10000 && r.Deviation > 0 && r.Deviation <= 1000
	}
	if !fits(r) || !(r.Volatility > 0 && r.Volatility <= 10) || !(tau >= 0.01 && tau <= 10) {
		return fmt.Errorf("%w: rating %v with tau %v", ErrInput, r, tau)
	}
	for _, game := range games {
		if !fits(game.Opponent) || !(game.Score >= 0 && game.Score <= 1) {
			return fmt.Errorf("%w: game %v", ErrInput, game)
		}
	}
	return nil
}

func g(phi float64) float64 { return 1 / math.Sqrt(1+3*phi*phi/(math.Pi*math.Pi)) }

// expected is the expected score, kept off 0 and 1 by a hair so that a hopeless game has a variance.
func expected(mu, muJ, gJ float64) float64 {
	e := 1 / (1 + math.Exp(-gJ*(mu-muJ)))
	return min(max(e, 1e-12), 1-1e-12)
}

// volatility finds the new volatility by the bracketing of step 5 (the Illinois variant of regula falsi). The
// equation may have several roots for extreme upsets and large tau; the published start of the bracket decides
// which one is found, so it must not be widened.
func volatility(delta, phi, v, sigma, tau float64) float64 {
	a := math.Log(sigma * sigma)
	f := func(x float64) float64 {
		ex := math.Exp(x)
		d := phi*phi + v + ex
		return ex*(delta*delta-phi*phi-v-ex)/(2*d*d) - (x-a)/(tau*tau)
	}
	lower := a
	var upper float64
	if delta*delta > phi*phi+v {
		upper = math.Log(delta*delta - phi*phi - v)
	} else {
		k := 1.0
		for f(a-k*tau) < 0 {
			k++
		}
		upper = a - k*tau
	}
	fLower, fUpper := f(lower), f(upper)
	for range 200 { // It converges in a handful; the bound guards against figures never seen.
		if math.Abs(upper-lower) <= epsilon {
			break
		}
		c := lower + (lower-upper)*fLower/(fUpper-fLower)
		fC := f(c)
		if fC*fUpper <= 0 {
			lower, fLower = upper, fUpper
		} else {
			fLower /= 2
		}
		upper, fUpper = c, fC
	}
	return math.Exp(lower / 2)
}
