package day

// DivisionAdded says that a division is part of the meet, as given.
type DivisionAdded struct {
	Division Division `json:"division"`
}

// Type is the name in the log.
func (DivisionAdded) Type() string { return "DivisionAdded" }

func (e DivisionAdded) apply(s *State) {
	s.Divisions[e.Division.ID] = e.Division
	if _, there := s.Programmes[e.Division.ID]; !there {
		s.Programmes[e.Division.ID] = Programme{Stages: []StageState{}}
	}
}
