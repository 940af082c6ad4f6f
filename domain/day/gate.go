package day

import "cmp"

// GateRule says what a missing check at the inspector's table means at the bench.
type GateRule string

// Gate rules.
const (
	GateOff  GateRule = ""     // nothing
	GateWarn GateRule = "warn" // it is shown
	GateHold GateRule = "hold" // the car does not race until it is put right, or an official lets it
)

// Before orders heats as the programme has them.
func (h Heat) Before(other Heat) bool {
	return cmp.Or(
		cmp.Compare(h.Stage, other.Stage), cmp.Compare(h.Round, other.Round), cmp.Compare(h.Number, other.Number), cmp.Compare(h.ID, other.ID),
	) < 0
}
