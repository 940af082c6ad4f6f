package measure

import "math"

// riseSize is how many stamps the fit of a rise uses. Fewer would let the
// scatter of the stamps through; more would leave the range of a cubic.
const riseSize = 8

// riseShare takes out what a cubic through the first stamps makes too much of a
// first-order rise, over the number of marks, as more of them span less of the
// rise. riseScatter is what remains uncertain. Both are parts of the way; they come from simulated starts of 3,000 to 20,000 rpm with time
// constants of 0.2 to 0.8 s.
const (
	riseExcess  = 0.045
	riseScatter = 0.039
	riseFloor   = 0.0045 // in steps, whatever the way
	riseRipple  = 0.0038 // more of it for each mark, as the ripple is part of a turn
)

// missedAtStart is the largest number of steps before the first stamp that is
// believed.
const missedAtStart = 3.5

// rise holds the first stamps of a roller that began to turn after the start
// signal. Its way before the first stamp is not seen; but the way that it took
// to gain its first speed follows from how it gained the next.
type rise struct {
	points int
	times  [riseSize]float64 // µs
	steps  [riseSize]float64 // since the first stamp
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
// elapsed µs before it, whichever are fewer. The way is the polynomial that fits
// the points best (a cubic if there are four); rest is where its speed is zero.
func (r *rise) back(elapsed float64) (steps float64, fromRest bool) {
	scale := r.times[r.points-1] - r.times[0]
	if scale <= 0 {
		return 0, false
	}
	c := r.fit(scale)
	rest := -elapsed / scale
	if root, ok := lastRestBefore(c[0], c[1], c[2]); ok && root > rest {
		rest, fromRest = root, true
	}
	return max(0, -(c[0]+(c[1]+c[2]*rest)*rest)*rest), fromRest
}

// fit returns v, a, j of the way v x + a x^2 + j x^3 after the first stamp, by
// least squares; x is the time in units of scale. There are as many terms as
// points allow.
func (r *rise) fit(scale float64) (c [3]float64) {
	terms := min(3, r.points-1)
	var sums [3][4]float64 // normal equations
	for i := 1; i < r.points; i++ {
		x := (r.times[i] - r.times[0]) / scale
		powers := [3]float64{x, x * x, x * x * x}
		for p := range terms {
			for q := range terms {
				sums[p][q] += powers[p] * powers[q]
			}
			sums[p][3] += powers[p] * r.steps[i]
		}
	}
	for p := range terms { // elimination; the matrix is positive definite
		if sums[p][p] <= 0 {
			return c
		}
		for q := p + 1; q < terms; q++ {
			f := sums[q][p] / sums[p][p]
			for k := p; k < 4; k++ {
				sums[q][k] -= f * sums[p][k]
			}
		}
	}
	for p := terms - 1; p >= 0; p-- {
		rest := sums[p][3]
		for q := p + 1; q < terms; q++ {
			rest -= sums[p][q] * c[q]
		}
		c[p] = rest / sums[p][p]
	}
	return c
}

// lastRestBefore returns the latest negative x at which v + 2ax + 3jx^2 is zero.
func lastRestBefore(v, a, j float64) (float64, bool) {
	if !(v > 0) {
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
