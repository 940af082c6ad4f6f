package measure

import "slices"

// CompareWithOthers looks for a bench that reads half or double: such a fault
// from the first stamp on cannot be seen in the stamps themselves. own and others
// are mean speeds in the same heat, in any one unit; at least two others are
// needed. It returns the flag and true if own is within 4 % of half or of double
// their median while they agree among themselves within 20 %.
func CompareWithOthers(own float64, others []float64) (Flag, bool) {
	if len(others) < 2 || own <= 0 {
		return Flag{}, false
	}
	sorted := slices.Sorted(slices.Values(others))
	median := (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
	if median <= 0 || sorted[0] < 0.8*median || sorted[len(sorted)-1] > 1.2*median {
		return Flag{}, false
	}
	switch r := own / median; {
	case r > 0.48 && r < 0.52:
		return Flag{Code: HalfOfOthers}, true
	case r > 1.92 && r < 2.08:
		return Flag{Code: DoubleOfOthers}, true
	}
	return Flag{}, false
}
