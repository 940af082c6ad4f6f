package inspection

import (
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// Windows are those of a division's class; none where it asks for nothing.
func Windows(s *day.State, division day.DivisionID) fairness.Windows {
	if b := s.Divisions[division].Class.Battery; b != nil {
		return b.Windows
	}
	return nil
}
