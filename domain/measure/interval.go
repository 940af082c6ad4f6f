package measure

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// halfWidth returns h so that the sum of independent parts with mean zero lies
// within -h and h with the given probability. The two widest rectangular parts
// keep their shape; all others are taken as normal, which a sum of several soon
// is. With few degrees of freedom the interval is widened as Student's t is
// wider than the normal distribution (GUM G.3).
func halfWidth(parts []Part, degrees, probability float64) float64 {
	var a, b, s float64 // half-widths of the widest, and the standard deviation of the rest
	for _, p := range parts {
		half := p.U * math.Sqrt(3)
		if p.Shape != Rectangular {
			s = math.Hypot(s, p.U)
			continue
		}
		if half > a {
			half, a = a, half
		}
		if half > b {
			half, b = b, half
		}
		s = math.Hypot(s, half/math.Sqrt(3))
	}
	// A narrow rectangle is lost beside a wide normal distribution, and would
	// only cancel digits.
	if b < 0.05*s {
		s, b = math.Hypot(s, b/math.Sqrt(3)), 0
	}
	if a < 0.05*s {
		s, a = math.Hypot(s, a/math.Sqrt(3)), 0
	}
	if a == 0 && s == 0 {
		return 0
	}
	s = max(s, 1e-4*a)
	low, high := 0.0, a+b+9*s
	for range 60 {
		mid := (low + high) / 2
		if 2*sumBelow(mid, a, b, s)-1 < probability {
			low = mid
		} else {
			high = mid
		}
	}
	widen := 1.0
	if !math.IsInf(degrees, 1) && degrees >= 1 {
		tail := (1 + probability) / 2
		// GUM G.6.4: the degrees of freedom are truncated.
		student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: math.Floor(degrees)}
		widen = student.Quantile(tail) / distuv.UnitNormal.Quantile(tail)
	}
	return high * widen
}

// sumBelow returns the probability that the sum of two rectangular parts of
// half-widths a >= b and of a normal one of standard deviation s is at most x:
// the normal distribution, integrated once or twice and differenced.
func sumBelow(x, a, b, s float64) float64 {
	switch {
	case a == 0:
		return distuv.UnitNormal.CDF(x / s)
	case b == 0:
		return (integrated(x+a, s) - integrated(x-a, s)) / (2 * a)
	default:
		return (twice(x+a+b, s) - twice(x+a-b, s) - twice(x-a+b, s) + twice(x-a-b, s)) / (4 * a * b)
	}
}

// integrated is the integral of the normal distribution function up to x.
func integrated(x, s float64) float64 {
	z := x / s
	return s * (z*distuv.UnitNormal.CDF(z) + distuv.UnitNormal.Prob(z))
}

// twice is the integral of integrated up to x.
func twice(x, s float64) float64 {
	z := x / s
	return s * s / 2 * ((z*z+1)*distuv.UnitNormal.CDF(z) + z*distuv.UnitNormal.Prob(z))
}
