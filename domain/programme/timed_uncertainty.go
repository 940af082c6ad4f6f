package programme

import (
	"cmp"
	"math/big"
	"slices"
)

// timedU is the standard uncertainty of a timed result in µm: that of the best
// run; the root of the sum of squares for a sum, the runs taken as independent;
// that divided by their number for a mean; the same of the middle one or two
// runs for a median (JCGM 100:2008 section 5.1.2). It is computed in integers,
// rounded half up, so that every platform shows the same. It is 0, not known, where
// that of a run in it is.
func timedU(rule timedRule, runs []TimedRun) int64 {
	var valued []TimedRun
	for _, r := range runs {
		if r.Valued {
			valued = append(valued, r)
		}
	}
	slices.SortStableFunc(valued, func(a, b TimedRun) int { // stable: of equal runs the earlier counts
		return cmp.Compare(b.DistanceUM, a.DistanceUM)
	})
	n := len(valued)
	if n == 0 {
		return 0
	}
	divisor := int64(1)
	switch rule {
	case ruleBest:
		valued = valued[:1]
	case ruleMean:
		divisor = int64(n)
	case ruleMedian:
		valued = valued[(n-1)/2 : n/2+1]
		divisor = int64(len(valued))
	}
	if len(valued) == 1 {
		return valued[0].UUM // the root of its square
	}
	sum := new(big.Int)
	for _, r := range valued {
		if r.UUM == 0 {
			return 0
		}
		u := big.NewInt(r.UUM)
		sum.Add(sum, u.Mul(u, u))
	}
	// With twice the value rounded down, (2x+1)/2 rounded down is x rounded half up.
	twice := sum.Mul(sum, big.NewInt(4))
	twice.Quo(twice, big.NewInt(divisor*divisor)).Sqrt(twice)
	return (twice.Int64() + 1) / 2
}
