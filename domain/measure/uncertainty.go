package measure

import "math"

// Shape is the distribution that stands for what is not known about one cause.
type Shape string

// The shapes, as JCGM 100:2008 (GUM) names them.
const (
	Normal      Shape = "normal"
	Rectangular Shape = "rectangular"
)

// Part is one cause of uncertainty.
type Part struct {
	// Cause is start, end, gaps, resolution, clock, delay, circumference or factor.
	Cause string
	// Shape is its distribution; of a rectangular one U is the half-width over the root of 3.
	Shape Shape
	// U is its standard uncertainty in the unit of the result.
	U float64
	// Degrees of freedom; 0 means infinite.
	Degrees float64
}

// Uncertainty says how well a value is known.
type Uncertainty struct {
	// Standard is the combined standard uncertainty (GUM 5.1.2).
	Standard float64
	// Degrees are the effective degrees of freedom (GUM G.4); +Inf where no part has few.
	Degrees float64
	// Half is half the width of the interval that covers 95 %.
	Half float64
	// Parts are the causes that are not zero.
	Parts []Part
}

// combine adds parts in quadrature and finds the interval.
func combine(parts []Part) Uncertainty {
	u := Uncertainty{Degrees: math.Inf(1)}
	variance, weighted := 0.0, 0.0
	for _, p := range parts {
		if !(p.U > 0) {
			continue
		}
		u.Parts = append(u.Parts, p)
		variance += p.U * p.U
		if p.Degrees > 0 {
			weighted += p.U * p.U * p.U * p.U / p.Degrees
		}
	}
	u.Standard = math.Sqrt(variance)
	if weighted > 0 {
		u.Degrees = variance * variance / weighted
	}
	u.Half = 1.96 * u.Standard
	return u
}

// uncertainty returns how well the distance is known.
func (t *Tracker) uncertainty(m *Measurement) Uncertainty {
	if !t.opened {
		return combine(nil)
	}
	b := t.setup.Bench
	perTurn := b.CircumferenceMM / 1000 / b.Factor
	perStep := perTurn / float64(t.marks.count)
	endSpeed := 0.0 // m per µs
	if t.pred > 0 && t.endHow != partUnknown && t.endHow != partNone {
		endSpeed = perStep / t.pred
	}
	jitter := t.jitter()
	parts := []Part{
		t.partOf("start", t.startHow, jitter, perStep),
		t.partOf("end", t.endHow, jitter, perStep),
		{Cause: "gaps", Shape: Rectangular, U: t.stepsLost * perStep / math.Sqrt(12)},
		{Cause: "resolution", Shape: Rectangular, U: endSpeed * b.StampUS / math.Sqrt(6)},
		{Cause: "circumference", Shape: Normal, U: m.DistanceM * b.CircumferenceUncertaintyMM / b.CircumferenceMM},
		{Cause: "factor", Shape: Normal, U: m.DistanceM * b.FactorUncertainty / b.Factor, Degrees: b.FactorDegrees},
	}
	if t.duration > 0 {
		parts = append(parts,
			Part{Cause: "clock", Shape: Normal, U: endSpeed * float64(t.duration) * b.ClockPPM * 1e-6},
			Part{Cause: "delay", Shape: Rectangular, U: endSpeed * t.setup.Race.StartDelayUS / math.Sqrt(3)},
		)
	}
	return combine(parts)
}

// partOf returns the uncertainty of the part of a step at one end. jitter is
// the scatter of a stamp over the gap.
func (t *Tracker) partOf(cause string, how partHow, jitter, perStep float64) Part {
	p := Part{Cause: cause, Shape: Normal}
	switch how {
	case partBetween:
		p.U = math.Hypot(0.8*jitter, 0.003)
	case partPredicted:
		p.U = math.Hypot(1.2*jitter, 0.01)
		if cause == "start" {
			p.U = 0.05
		}
	case partCapped:
		p.Shape, p.U = Rectangular, 0.5/math.Sqrt(3)
	case partUnknown:
		p.Shape, p.U = Rectangular, 1/math.Sqrt(12)
	}
	p.U *= perStep
	return p
}

// jitter returns the scatter of a stamp in parts of a gap, from the surprises
// of the regular stamps: a gap has two of them.
func (t *Tracker) jitter() float64 {
	if t.steps < 20 || !(t.level() > 0) {
		return 0.01
	}
	return math.Min(0.1, math.Sqrt(t.noise/float64(t.steps)/2)/t.level())
}
