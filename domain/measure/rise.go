package measure

import "math"

// rise holds the first stamps of a roller that began to turn after the start
// signal. Its way before the first stamp is not seen; but the way that it took
// to gain its first speed follows from how it gained the next.
type rise struct {
	points int
	times  [4]float64 // µs
	steps  [4]float64 // since the first stamp
}

// begin takes the first stamp.
func (r *rise) begin(at float64) {
	r.points, r.times[0], r.steps[0] = 1, at, 0
}

// add takes the next genuine stamp, if there is room for it.
func (r *rise) add(at, steps float64) {
	if r.points < len(r.times) {
		r.times[r.points] = at
		r.steps[r.points] = r.steps[r.points-1] + steps
		r.points++
	}
}

// back returns the steps from rest to the first stamp, or those since a time
// elapsed µs before it, whichever are fewer. The way is the polynomial through
// the points (a cubic through four); rest is where its speed becomes zero.
func (r *rise) back(elapsed float64) float64 {
	// Divided differences; x is the time since the first stamp.
	var x, c [4]float64
	for i := range r.points {
		x[i], c[i] = r.times[i]-r.times[0], r.steps[i]
	}
	for order := 1; order < r.points; order++ {
		for i := r.points - 1; i >= order; i-- {
			c[i] = (c[i] - c[i-1]) / (x[i] - x[i-order])
		}
	}
	// Newton's form as v x + a x^2 + j x^3, as x[0] and c[0] are 0.
	v := c[1] - c[2]*x[1] + c[3]*x[1]*x[2]
	a := c[2] - c[3]*(x[1]+x[2])
	j := c[3]
	rest := -elapsed
	if root, ok := lastRestBefore(v, a, j); ok && root > rest {
		rest = root
	}
	return max(0, -(v+(a+j*rest)*rest)*rest)
}

// lastRestBefore returns the latest negative x at which v + 2ax + 3jx^2 is zero.
func lastRestBefore(v, a, j float64) (float64, bool) {
	if v <= 0 {
		return 0, true // it hardly turns at the first stamp
	}
	square := a*a - 3*j*v
	if square < 0 {
		return 0, false
	}
	// The root that tends to -v/2a as j vanishes, in the form that does not
	// divide by j.
	if x := -v / (a + math.Sqrt(square)); x < 0 {
		return x, true
	}
	return 0, false
}
