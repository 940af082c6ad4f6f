package standings

import "math"

// reach is how far the truth of an entry's figure may lie below and above it: its margins as floats, which are quick,
// with the way to the exact ones for what is nearer to the limit than floats can tell.
type reach struct {
	of   *timed
	rule Rule
	// figure is the entry's, exact in ratio; below and above are variances, +Inf where a side is open.
	figure, below, above float64
	ratio                ratio
}

// unsure is how far, as a part, a comparison of floats may be from its limit and still be left to exact numbers. It
// is a million times what rounding can do to the sums here, so every platform marks the same.
const unsure = 1e-9

func (t *timed) reach(rule Rule) reach {
	runs, divisor := t.used(rule)
	r := reach{of: t, rule: rule, ratio: t.ratio(rule)}
	for i := range runs {
		r.figure += float64(runs[i].Value)
		below, above := runs[i].variances()
		r.below, r.above = r.below+below, r.above+above
	}
	by := float64(divisor)
	r.figure, r.below, r.above = r.figure/by, r.below/(by*by), r.above/(by*by)
	if rule == Best || rule == BestTwo || rule == Median {
		for i := range t.best {
			switch below, above := t.best[i].variances(); {
			case math.IsInf(below, 1) && math.IsInf(above, 1):
			case t.better == More && math.IsInf(above, 1):
				r.above = above
			case t.better == Less && math.IsInf(below, 1):
				r.below = below
			}
		}
	}
	return r
}

// variances are the margins of a run as floats.
func (r *Run) variances() (below, above float64) {
	side := func(end *int64) float64 {
		var width float64
		switch {
		case end != nil:
			width = float64(r.Value-*end) * 1e6 / float64(quantile95)
		case r.U > 0 || r.Exact:
			width = float64(r.U)
		default:
			return math.Inf(1)
		}
		return width * width
	}
	return side(r.Low), side(r.High)
}

func (r *reach) unknown() bool { return math.IsInf(r.below, 1) && math.IsInf(r.above, 1) }

func (r *reach) exact() bool { return r.below == 0 && r.above == 0 }

// low and high are the ends of what the figure reaches at a quantile, a little further than they are.
func (r *reach) low(quantile float64) float64 {
	return r.figure - quantile*math.Sqrt(r.below)*(1+unsure) - unsure*r.figure
}

func (r *reach) high(quantile float64) float64 {
	return r.figure + quantile*math.Sqrt(r.above)*(1+unsure) + unsure*r.figure
}

// near is close for two figures of which something is known each.
func (c *Closeness) near(a, b *reach, quantile float64) bool {
	difference, sure := a.ratio.minus(b.ratio)
	if sure {
		if difference < 0 {
			a, b, difference = b, a, -difference
		}
		square, within := difference*difference, quantile*quantile*(a.below+b.above)
		switch {
		case difference == 0:
			return !a.exact() || !b.exact()
		case square < within*(1-unsure): // so it is too where a side is open
			return true
		case square > within*(1+unsure):
			return false
		}
	}
	figureA, _ := a.of.figure(a.rule)
	figureB, _ := b.of.figure(b.rule)
	return c.close(figureA, figureB, a.of.margins(a.rule), b.of.margins(b.rule), false)
}
