package day

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

// ClassBattery is what a car class asks of a battery pack.
type ClassBattery struct {
	// Windows are the kinds of cells that race, each with its bounds.
	Windows battery.Windows `json:"windows"`
	// AsideAfter puts a pack aside that was refused so often in a row, 1 to 20; 0 is
	// never. A hot, swollen, leaking or damaged one is put aside at once.
	AsideAfter int `json:"aside_after,omitempty"`
}

// mostAsideAfter bounds AsideAfter.
const mostAsideAfter = 20

// CheckIncidents refuses what a class says of incidents where it cannot be followed.
func (c CarClass) CheckIncidents() error { return checkIncidents(c.Incidents) }

// CheckTable refuses what a class asks for at the inspector's table where it
// cannot be.
func (c CarClass) CheckTable(division DivisionID) error {
	if c.Battery != nil {
		if len(c.Battery.Windows) == 0 || c.Battery.AsideAfter < 0 || c.Battery.AsideAfter > mostAsideAfter {
			return refusal.New("battery-class", "division", division, "most", mostAsideAfter)
		}
		if err := c.Battery.Windows.Check(); err != nil {
			return err
		}
		if cells := c.Battery.Windows[0].Cells; c.Cells != 0 && cells != c.Cells {
			return refusal.New("battery-cells", "division", division, "given", cells, "class", c.Cells)
		}
	}
	return checkItems(division, c.Checklist)
}
