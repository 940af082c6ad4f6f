package programme

import "benchmeet/domain/day"

// RatedGame is what a heat says about the strength of two entrants.
type RatedGame struct {
	A day.EntrantID `json:"a"`
	B day.EntrantID `json:"b"`
	// Score is 2 where A won, 1 for a draw and 0 where B won.
	Score int `json:"score"`
}

// RatedGames are the heats of a division that count for ratings: those in which
// just two cars raced side by side and both have an official result; of a heat in
// legs each leg. Heats of
// many are left out: their places are no independent results of pairs, and taking
// them as such makes ratings look surer than they are (M. E. Glickman and
// J. Hennessy, "A stochastic rank ordered logit model for rating multi-competitor
// games and sports", 2015). So are heats that nobody raced (byes, walkovers) and
// two who share a car and run one after the other.
func RatedGames(s *day.State, division day.DivisionID) []RatedGame {
	var out []RatedGame
	for _, h := range s.SortedHeats() {
		if h.Division != division || h.Phase != day.PhaseOfficial || len(h.Lanes) != 2 {
			continue
		}
		a, b := ResultOf(s, h.Lanes[0]), ResultOf(s, h.Lanes[1])
		ea, eb := s.Entries[a.Entry], s.Entries[b.Entry]
		if !a.Valued || !b.Valued || ea.Car == eb.Car || ea.Entrant == eb.Entrant {
			continue
		}
		game := RatedGame{A: ea.Entrant, B: eb.Entrant, Score: 1}
		switch {
		case a.DistanceUM > b.DistanceUM:
			game.Score = 2
		case a.DistanceUM < b.DistanceUM:
			game.Score = 0
		}
		out = append(out, game)
	}
	return out
}
