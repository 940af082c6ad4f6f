package measure

import "math"

// Drag is a decelerating force A + B v + C v² in N with v in m/s, the form that
// is used for coasting vehicles (UN GTR No. 15, annex 4; SAE J1263; from memory).
type Drag struct{ A, B, C float64 }

// FitDrag fits a drag to speeds in m/s and forces in N, by least squares.
func FitDrag(speeds, forces []float64) (Drag, error) {
	if len(speeds) < 3 || len(speeds) != len(forces) {
		return Drag{}, ErrNoFit
	}
	rows := make([][]float64, len(speeds))
	for i, v := range speeds {
		rows[i] = []float64{1, v, v * v}
	}
	c, ok := leastSquares(rows, forces)
	if !ok {
		return Drag{}, ErrNoFit
	}
	return Drag{c[0], c[1], c[2]}, nil
}

// FitCoastDown fits the drag on a roller that runs down with the drive off, from
// times in s and speeds in m/s, for an equivalent mass in kg. It compares the
// loss of speed between the samples with the integrals of 1, v and v²; so an
// even scatter of the samples does not bias it as differences would.
func FitCoastDown(mass float64, times, speeds []float64) (Drag, error) {
	n := len(times)
	if n < 5 || n != len(speeds) || !(mass > 0) {
		return Drag{}, ErrNoFit
	}
	rows := make([][]float64, n)
	rows[0] = []float64{1, 0, 0, 0}
	for i := 1; i < n; i++ {
		dt, u, v := times[i]-times[i-1], speeds[i-1], speeds[i]
		before := rows[i-1]
		// Within a sample the speed is taken as a straight line.
		rows[i] = []float64{1, before[1] - dt, before[2] - dt*(u+v)/2, before[3] - dt*(u*u+u*v+v*v)/3}
	}
	c, ok := leastSquares(rows, speeds)
	if !ok {
		return Drag{}, ErrNoFit
	}
	return Drag{c[1] * mass, c[2] * mass, c[3] * mass}, nil
}

// Force is the drag in N at a speed in m/s.
func (d Drag) Force(v float64) float64 { return d.A + (d.B+d.C*v)*v }

// CoastTime returns the time in s to coast from one speed down to another in
// m/s, for a mass in kg: the integral of mass/(A + B v + C v²) in closed form.
// It is +Inf where the drag does not brake all the way.
func (d Drag) CoastTime(mass, from, to float64) float64 {
	if d.Force(from) <= 0 || d.Force(to) <= 0 {
		return math.Inf(1)
	}
	root := 4*d.A*d.C - d.B*d.B
	switch {
	case math.Abs(d.C) < 1e-15 && math.Abs(d.B) < 1e-15:
		return mass * (from - to) / d.A
	case math.Abs(d.C) < 1e-15:
		return mass / d.B * math.Log(d.Force(from)/d.Force(to))
	case root > 0:
		q := math.Sqrt(root)
		return 2 * mass / q * (math.Atan((2*d.C*from+d.B)/q) - math.Atan((2*d.C*to+d.B)/q))
	case root < 0:
		q := math.Sqrt(-root)
		part := func(v float64) float64 { return math.Log(math.Abs((2*d.C*v + d.B - q) / (2*d.C*v + d.B + q))) }
		return mass / q * (part(from) - part(to))
	default:
		return mass * (2/(2*d.C*to+d.B) - 2/(2*d.C*from+d.B))
	}
}
