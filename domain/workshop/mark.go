package workshop

import (
	"slices"

	"benchmeet/domain/day"
)

// Drop says why a run does not count; empty, it does.
type Drop string

// Why a run does not count.
const (
	OffRollers Drop = "off-rollers" // the car left the rollers
	Helped     Drop = "helped"      // somebody pushed or held it
	Mistake    Drop = "mistake"     // made by mistake
	Other      Drop = "other"
)

// Drops are the reasons why a run does not count.
func Drops() []Drop { return []Drop{OffRollers, Helped, Mistake, Other} }

// Known says whether it is a reason, or none.
func (d Drop) Known() bool { return d == "" || slices.Contains(Drops(), d) }

// Mark is what was said of a run after it was recorded.
type Mark struct {
	// Moved says that it is a run of Car, which was then in State and Fitting.
	Moved bool      `json:"moved,omitempty"`
	Car   day.CarID `json:"car,omitempty"`
	// Restated says that its car, its own or that to which it was moved, was then in State
	// and Fitting, which nobody had noted when it was recorded.
	Restated bool `json:"restated,omitempty"`
	State    int  `json:"state,omitempty"`
	Fitting  int  `json:"fitting,omitempty"`
	Dropped  Drop `json:"dropped,omitempty"`
}
