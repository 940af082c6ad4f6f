package day

// GateRule says what a missing check at the inspector's table means at the bench.
type GateRule string

// Gate rules.
const (
	GateOff  GateRule = ""     // nothing
	GateWarn GateRule = "warn" // it is shown
	GateHold GateRule = "hold" // the car does not race until it is put right, or an official lets it
)
