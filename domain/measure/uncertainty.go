package measure

import "math"

// Shape is the distribution that stands for what is not known about one cause.
type Shape string

// The shapes that are used.
const (
	Normal      Shape = "normal"
	Rectangular Shape = "rectangular"
)

// Part is one cause of uncertainty.
type Part struct {
	// Cause is start, end, gaps, resolution, clock, delay, circumference or factor.
	Cause string
	// Shape is its distribution.
	Shape Shape
	// U is its standard uncertainty in the unit of the result; that of a
	// rectangular one is its half-width over the root of 3 (GUM 4.3.7).
	U float64
	// Degrees are its degrees of freedom; 0 means infinite.
	Degrees float64
}

// Uncertainty says how well a value is known.
type Uncertainty struct {
	// Standard is the combined standard uncertainty (GUM 5.1.2).
	Standard float64
	// Degrees are the effective degrees of freedom (GUM G.4); +Inf where no part
	// has few.
	Degrees float64
	// Half is half the width of the interval that covers 95 %.
	Half float64
	// Below and Above are how far that interval reaches below and above the value:
	// Half both where it lies evenly about it.
	Below, Above float64
	// None is set where no such interval can be stated honestly: then Half, Below and
	// Above are 0 and mean nothing. A flag says why.
	None bool
	// Parts are the causes that are not zero.
	Parts []Part
}

// Combine adds independent parts in quadrature, as JCGM 100:2008 (GUM) says, and
// finds the 95 % interval by propagating their distributions (JCGM 101:2008):
// twice the standard uncertainty would be too wide where a rectangular part
// dominates.
func Combine(parts []Part) Uncertainty {
	u := Uncertainty{Degrees: math.Inf(1)}
	variance, weighted := 0.0, 0.0
	for _, p := range parts {
		if !(p.U > 0) || math.IsInf(p.U, 0) {
			continue
		}
		u.Parts = append(u.Parts, p)
		variance += p.U * p.U
		if p.Degrees > 0 {
			weighted += math.Pow(p.U, 4) / p.Degrees
		}
	}
	u.Standard = math.Sqrt(variance)
	if weighted > 0 {
		u.Degrees = variance * variance / weighted
	}
	u.Half = halfWidth(u.Parts, u.Degrees, 0.95)
	u.Below, u.Above = u.Half, u.Half
	return u
}

// widen stretches the interval on either side, for what another reading of the
// stamps gives.
func (u *Uncertainty) widen(below, above float64) {
	u.Below, u.Above = u.Below+below, u.Above+above
	u.Half = (u.Below + u.Above) / 2
}

// lopsided reports whether the interval reaches further on one side, by more than
// rounding shows.
func (u *Uncertainty) lopsided() bool {
	return !u.None && math.Abs(u.Above-u.Below) > 1e-6
}

// forgo says that no interval can be stated.
func (u *Uncertainty) forgo() {
	u.None, u.Half, u.Below, u.Above = true, 0, 0, 0
}
