package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// StageToSeed is the stage whose first round is drawn next; it refuses while
// another round is.
func StageToSeed(s *day.State, d day.Division) (int, error) {
	stage, round, err := NextRound(s, d)
	drawn, _ := s.Programmes[d.ID].Round()
	no, refused := refusal.As(err)
	switch {
	case refused && no.Code == "programme-over":
		return 0, err
	case err != nil || round != 1:
		return 0, refusal.New("seed-drawn", "division", d.ID, "stage", drawn)
	}
	return stage, nil
}
