package main

import "time"

// clock is the server's clock. A rehearsal runs it faster than life.
type clock struct {
	start time.Time
	scale float64
}

func newClock(scale float64) clock { return clock{time.Now(), scale} }

// now is the server's time: real time, or the start plus the scaled time since.
func (c clock) now() time.Time {
	if c.scale == 1 {
		return time.Now()
	}
	return c.start.Add(time.Duration(float64(time.Since(c.start)) * c.scale))
}
