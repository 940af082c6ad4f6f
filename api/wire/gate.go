package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// ShowGate shows what a missing check means; off is a word of the contract alone.
func ShowGate(g day.GateRule) gen.GateRule {
	if g == day.GateOff {
		return "off"
	}
	return Word[gen.GateRule](g)
}

// ReadGate reads what a missing check means; left out it is off.
func ReadGate(g *gen.GateRule) day.GateRule {
	if g == nil || *g == "off" {
		return day.GateOff
	}
	return day.GateRule(*g)
}
