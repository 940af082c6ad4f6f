package inspection

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
)

// Windows are those of a division's class; none where it asks for nothing.
func Windows(s *day.State, division day.DivisionID) battery.Windows {
	if b := s.Divisions[division].Class.Battery; b != nil {
		return b.Windows
	}
	return nil
}
