package tuning

import "math"

// What the looks of one comparison may spend together, and how it is shared: the last
// look, at the announced number of fittings, has most of it, so that waiting for it
// costs little (the idea of J. L. Haybittle, "Repeated assessment of results in clinical
// trials of cancer treatment", Br. J. Radiol. 44, 1971; from memory).
const (
	errorRate  = 0.05
	lastSpends = 0.04
)

// Level returns the two-sided level of the look that comes left fittings before the
// announced number: 4 % at the end and beyond it, 0.5 % one before, and half of that
// for each before. Their sum stays under 5 % whatever the looks have to do with each
// other (Bonferroni's inequality), so that neither a stop at the first "quicker" nor
// small numbers of fittings make more false ones.
func Level(left int) float64 {
	if left <= 0 {
		return lastSpends
	}
	return (errorRate - lastSpends) * math.Exp2(-float64(left))
}
