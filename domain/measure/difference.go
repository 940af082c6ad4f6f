package measure

import (
	"math"
	"slices"
)

// common are the causes that two runs on one bench share: what is not known of
// the roller's circumference, of the bench's factor and of its clock makes both
// runs wrong in the same direction.
var common = []string{"circumference", "factor", "clock"}

// DistanceDifference returns how much further a went than b, in m, and how well
// that is known. On one bench the shared causes cancel to what the distances
// differ by; on two benches all causes are independent.
func DistanceDifference(a, b Measurement, sameBench bool) (float64, Uncertainty) {
	return a.DistanceM - b.DistanceM, differ(a.Distance.Parts, b.Distance.Parts, sameBench)
}

// SpeedDifference returns how much quicker a was than b on average, in m/s, and
// how well that is known. A start that came late or early moves a run's window but
// hardly its mean, so that cause is left out.
func SpeedDifference(a, b Measurement, sameBench bool) (float64, Uncertainty) {
	return a.MeanSpeedMPS - b.MeanSpeedMPS, differ(a.speedParts(), b.speedParts(), sameBench)
}

// speedParts are the causes in m/s.
func (m Measurement) speedParts() []Part {
	var out []Part
	for _, p := range m.Distance.Parts {
		if p.Cause != "delay" && m.DistanceM > 0 {
			p.U *= m.MeanSpeedMPS / m.DistanceM
			out = append(out, p)
		}
	}
	return out
}

func differ(a, b []Part, sameBench bool) Uncertainty {
	var parts []Part
	for _, p := range a {
		if other := slices.IndexFunc(
			b, func(q Part) bool { return q.Cause == p.Cause },
		); sameBench && other >= 0 && slices.Contains(common, p.Cause) {
			p.U = math.Abs(p.U - b[other].U)
		}
		parts = append(parts, p)
	}
	for _, p := range b {
		shared := sameBench && slices.Contains(common, p.Cause) && slices.ContainsFunc(a, func(q Part) bool { return q.Cause == p.Cause })
		if !shared {
			parts = append(parts, p)
		}
	}
	return Combine(parts)
}
