package node

import "time"

// Clock is the time that a node goes by: the arrival of lines, the length of a
// run, how long it waits before it tries again.
type Clock interface {
	Now() time.Time
	// After is like time.After, for a duration of this clock.
	After(time.Duration) <-chan time.Time
}

// Scaled is a clock that runs by a factor faster than life, from the instant at
// which it was made: for rehearsals and tests, whose counter box does so too.
type Scaled struct {
	start time.Time
	scale float64
}

// NewScaled makes a clock that runs scale times as fast as life; 1 is life.
func NewScaled(scale float64) Scaled { return Scaled{time.Now(), scale} }

// Now is the start plus the scaled time since.
func (s Scaled) Now() time.Time {
	return s.start.Add(time.Duration(float64(time.Since(s.start)) * s.scale))
}

// After waits the scaled down duration.
func (s Scaled) After(d time.Duration) <-chan time.Time {
	return time.After(time.Duration(float64(d) / s.scale))
}
