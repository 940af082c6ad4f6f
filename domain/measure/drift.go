package measure

import "math"

// drift is how much the speed wanders, learnt from block to block.
type drift struct {
	squares, seconds float64
}

const (
	// driftSquares over driftSeconds is what is believed before anything is seen: a
	// wander of 0.7 % with a correlation time of half a second.
	driftSquares = 2e-4
	driftSeconds = 1.0
	// driftMost is the change from block to block above which it is no wander.
	driftMost = 0.03
)

// learn takes the change of the mean gap from one block to the next, which took
// so many µs. Two neighbouring means of a random walk differ by 2/3 of what it
// goes in that time.
func (d *drift) learn(change, us float64) {
	if math.Abs(change) > driftMost {
		return
	}
	d.squares += 1.5 * change * change
	d.seconds += us / 1e6
}

// over returns the standard uncertainty in µs of the way over a gap, over the
// speed: a random walk that is tied at both ends (a Brownian bridge), integrated.
func (d *drift) over(gap float64) float64 {
	rate := (d.squares + driftSquares) / (d.seconds + driftSeconds) / 1e6 // 1/µs
	return math.Sqrt(rate * gap * gap * gap / 12)
}
