package evidence

import (
	"math"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
)

// told is the confidence at which a difference counts as told, that of the standings.
const told = 0.95

// Apart is by how much two runs differ in one thing.
type Apart struct {
	Value float64
	U     float64 // standard uncertainty
	// TooClose says that the two cannot be told apart.
	TooClose bool
}

// Difference is what is known of two runs beside one another.
type Difference struct {
	// SameBench and SameCar say what the two have in common: the doubt about a bench is
	// in both runs of one.
	SameBench, SameCar bool
	// Corrected says that one of them at least is corrected by a factor in force.
	Corrected bool
	Distance  Apart // in m
	MeanSpeed Apart // in m/s
	// Slowing is how much more of its speed the one lost; nil where not both show it.
	Slowing *Apart
}

// Compare compares two runs of a meet as they count: divided by the factors in force.
// Without its stamps (nil) a run's figures stand alone, with the uncertainty that they
// hold.
func Compare(s *day.State, r, from day.Run, again, fromAgain *Curve) Difference {
	out := Difference{
		SameBench: r.Bench == from.Bench,
		SameCar:   r.Entry != "" && from.Entry != "" && s.Entries[r.Entry].Car == s.Entries[from.Entry].Car,
	}
	x, xFactor := corrected(s, r, measuredOf(r, again))
	y, yFactor := corrected(s, from, measuredOf(from, fromAgain))
	out.Corrected = xFactor || yFactor
	out.Distance = apart(measure.DistanceDifference(x, y, out.SameBench))
	out.MeanSpeed = apart(measure.SpeedDifference(x, y, out.SameBench))
	if again == nil || fromAgain == nil {
		return out
	}
	loss, lossKnown := again.Course().Lost()
	other, otherKnown := fromAgain.Course().Lost()
	if lossKnown && otherKnown {
		d := apart(loss.Lost-other.Lost, measure.Uncertainty{Standard: math.Hypot(loss.U, other.U), Degrees: math.Inf(1)})
		out.Slowing = &d
	}
	return out
}

// measuredOf is the measurement of a run, or what its figures tell of one.
func measuredOf(r day.Run, again *Curve) measure.Measurement {
	if again != nil {
		return again.Measured
	}
	f := r.Figures
	return measure.Measurement{
		DistanceM: float64(f.DistanceUM) / 1e6, MeanSpeedMPS: float64(f.MeanUMPS) / 1e6,
		Distance: measure.Combine([]measure.Part{{Cause: "count", Shape: measure.Normal, U: float64(f.UDistanceUM) / 1e6}}),
	}
}

// corrected divides a measurement by the factor of its bench where one is in force,
// as the run's result is, and says whether there was one.
func corrected(s *day.State, r day.Run, m measure.Measurement) (measure.Measurement, bool) {
	value := s.Value(r)
	if value.Set == 0 {
		return m, false
	}
	factor := float64(value.Factor.FactorPPM) / 1e6
	m.DistanceM /= factor
	m.MeanSpeedMPS /= factor
	parts := []measure.Part{{
		Cause: "factor", Shape: measure.Normal,
		U: m.DistanceM * float64(value.Factor.UPPM) / 1e6, Degrees: float64(value.Factor.Degrees),
	}}
	for _, p := range m.Distance.Parts {
		p.U /= factor
		parts = append(parts, p)
	}
	m.Distance = measure.Combine(parts)
	return m, true
}

func apart(value float64, u measure.Uncertainty) Apart {
	e := fairness.Estimate{Value: value, U: u.Standard}
	if !math.IsInf(u.Degrees, 0) {
		e.Degrees = u.Degrees
	}
	return Apart{Value: value, U: u.Standard, TooClose: value == 0 || e.TooClose(told)}
}
