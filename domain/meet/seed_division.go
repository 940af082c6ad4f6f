package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// SeedDivision fixes the seed order for the next draw of a stage. It can be
// given again until the draw; after it only a DrawAgain changes the order.
type SeedDivision struct {
	Division day.DivisionID
	SeedOrder
}

func (c SeedDivision) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	d, err := Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	stage, err := StageToSeed(s, d)
	if err != nil {
		return nil, err
	}
	before := s.Programmes[d.ID].Seeding
	lot := m.Seed
	if before != nil && before.Stage == stage {
		lot = before.LotSeed
	}
	seeded, err := Seed(s, d, stage, c.SeedOrder, lot)
	if err != nil {
		return nil, err
	}
	if before != nil && before.Stage == stage && before.Method == seeded.Seeding && slices.Equal(before.Order, seeded.Seeds) {
		return nil, nil
	}
	seeded.By = m.Actor
	return []day.Event{seeded}, nil
}

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
