package standings

import "math/bits"

// ratio is a figure as a sum of values over a number, for quick and exact comparisons.
type ratio struct {
	sum, over uint64
	// large says that the sum has no room: such figures are compared as Fractions.
	large bool
}

// ratio is the figure that a rule makes of the runs; 0 without any.
func (t *timed) ratio(rule Rule) ratio {
	runs, divisor := t.used(rule)
	r := ratio{over: uint64(divisor)}
	for i := range runs {
		var carry uint64
		r.sum, carry = bits.Add64(r.sum, uint64(runs[i].Value), 0)
		r.large = r.large || carry > 0
	}
	return r
}

// minus is r - o, exact but for the rounding of the result to a float, so that its sign is that of the difference;
// false where one of them has no room.
func (r ratio) minus(o ratio) (float64, bool) {
	if r.large || o.large {
		return 0, false
	}
	hi, lo := bits.Mul64(r.sum, o.over)
	otherHi, otherLo := bits.Mul64(o.sum, r.over)
	sign := 1.0
	if hi < otherHi || hi == otherHi && lo < otherLo {
		hi, lo, otherHi, otherLo, sign = otherHi, otherLo, hi, lo, -1
	}
	lo, borrow := bits.Sub64(lo, otherLo, 0)
	hi, _ = bits.Sub64(hi, otherHi, borrow)
	const word = 1 << 64
	return sign * (float64(hi)*word + float64(lo)) / (float64(r.over) * float64(o.over)), true
}
