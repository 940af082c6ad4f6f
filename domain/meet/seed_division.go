package meet

import (
	"slices"

	"benchmeet/domain/refusal"
)

// SeedDivision fixes the seed order for the next draw of a stage. It can be
// given again until the draw; after it only a DrawAgain changes the order.
type SeedDivision struct {
	Division DivisionID
	SeedOrder
}

// DivisionSeeded says in which order a stage is to be drawn.
type DivisionSeeded struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Seeding  SeedMethod `json:"seeding"`
	Seeds    []EntryID  `json:"seeds"`
	// LotSeed is the lot that decided where the method leaves it to lot.
	LotSeed uint64 `json:"lot_seed"`
	// Ratings are those that an order by rating went by.
	Ratings []Rated `json:"ratings,omitempty"`
	By      string  `json:"by"`
}

func (c SeedDivision) decide(s *State, m Meta) ([]Event, error) {
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
	return []Event{seeded}, nil
}

// StageToSeed is the stage whose first round is drawn next; it refuses while
// another round is.
func StageToSeed(s *State, d Division) (int, error) {
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

// Type is the name in the log.
func (DivisionSeeded) Type() string { return "DivisionSeeded" }

func (e DivisionSeeded) apply(s *State) {
	p := s.Programmes[e.Division]
	p.Seeding = &SeedList{Stage: e.Stage, Method: e.Seeding, Order: e.Seeds, LotSeed: e.LotSeed, AtUS: s.TimeUS}
	s.Programmes[e.Division] = p
}
