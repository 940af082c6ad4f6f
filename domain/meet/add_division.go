package meet

import (
	"reflect"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// AddDivision adds a division, or replaces one whose first round is not drawn.
type AddDivision struct {
	Division day.Division
	// Edition is what the save rests on, see [day.CheckEdition].
	Edition string
}

func (c AddDivision) decide(s *day.State, _ Meta) ([]day.Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if err := programme.CheckDivision(c.Division); err != nil {
		return nil, err
	}
	if _, away := s.Away.Divisions[c.Division.ID]; away {
		return nil, refusal.New("division-away", "division", c.Division.ID)
	}
	old, there := s.Divisions[c.Division.ID]
	if there && old.Edition() != c.Division.Edition() {
		if err := day.CheckEdition(c.Edition, old.Edition()); err != nil {
			return nil, err
		}
	}
	if programme.Host(s, c.Division.ID) != c.Division.ID {
		return nil, refusal.New("division-merged", "division", c.Division.ID, "into", programme.Host(s, c.Division.ID))
	}
	for _, id := range programme.Merged(s, c.Division.ID) {
		if !reflect.DeepEqual(s.Divisions[id].Class, c.Division.Class) {
			return nil, refusal.New("merge-class", "division", id, "into", c.Division.ID)
		}
	}
	if stage, _ := s.Programmes[c.Division.ID].Round(); stage > 0 {
		return nil, refusal.New("division-drawn", "division", c.Division.ID)
	}
	return []day.Event{day.DivisionAdded{Division: c.Division}}, nil
}
