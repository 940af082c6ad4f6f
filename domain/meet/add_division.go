package meet

import (
	"reflect"

	"benchmeet/domain/refusal"
)

// AddDivision adds a division, or replaces one whose first round is not drawn.
type AddDivision struct {
	Division Division
}

// DivisionAdded says that a division is part of the meet, as given.
type DivisionAdded struct {
	Division Division `json:"division"`
}

func (c AddDivision) decide(s *State, _ Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if err := CheckDivision(c.Division); err != nil {
		return nil, err
	}
	if Host(s, c.Division.ID) != c.Division.ID {
		return nil, refusal.New("division-merged", "division", c.Division.ID, "into", Host(s, c.Division.ID))
	}
	for _, id := range Merged(s, c.Division.ID) {
		if !reflect.DeepEqual(s.Divisions[id].Class, c.Division.Class) {
			return nil, refusal.New("merge-class", "division", id, "into", c.Division.ID)
		}
	}
	if stage, _ := s.Programmes[c.Division.ID].Round(); stage > 0 {
		return nil, refusal.New("division-drawn", "division", c.Division.ID)
	}
	return []Event{DivisionAdded(c)}, nil
}

// Type is the name in the log.
func (DivisionAdded) Type() string { return "DivisionAdded" }

func (e DivisionAdded) apply(s *State) {
	s.Divisions[e.Division.ID] = e.Division
	if _, there := s.Programmes[e.Division.ID]; !there {
		s.Programmes[e.Division.ID] = Programme{Stages: []StageState{}}
	}
}
