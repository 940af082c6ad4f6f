package meet

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// SeedDivision fixes the seed order for the next draw of a stage. It can be
// given again until the draw; after it only a DrawAgain changes the order.
type SeedDivision struct {
	Division day.DivisionID
	programme.SeedOrder
}

func (c SeedDivision) decide(s *day.State, m Meta) ([]day.Event, error) {
	d, err := programme.Hosting(s, c.Division)
	if err != nil {
		return nil, err
	}
	stage, err := programme.StageToSeed(s, d)
	if err != nil {
		return nil, err
	}
	before := s.Programmes[d.ID].Seeding
	lot := m.Seed
	if before != nil && before.Stage == stage {
		lot = before.LotSeed
	}
	seeded, err := programme.Seed(s, d, stage, c.SeedOrder, lot)
	if err != nil {
		return nil, err
	}
	if before != nil && before.Stage == stage && before.Method == seeded.Seeding && slices.Equal(before.Order, seeded.Seeds) {
		return nil, nil
	}
	seeded.By = m.Actor
	return []day.Event{seeded}, nil
}
