package day

import "slices"

// Through says whether every lane of the heat has a result or races a decider.
func (h Heat) Through() bool {
	return !slices.ContainsFunc(h.Lanes, func(l Lane) bool { return l.State != LaneDone && !l.Deciding })
}
