package rehearsal

import (
	"sync"
	"time"
)

// Clock is a clock that stands still until somebody steps it: a server that has it and a day
// that is played by it agree about each instant, whatever the machine does meanwhile.
type Clock struct {
	mu sync.Mutex
	at time.Time
	// since is from when on it goes on by itself; zero while it is stepped.
	since time.Time
}

// NewClock is a clock that stands at an instant.
func NewClock(at time.Time) *Clock { return &Clock{at: at} }

// Now is what the clock says.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.since.IsZero() {
		return c.at
	}
	return c.at.Add(time.Since(c.since))
}

// Step sets the clock on to an instant; it is never set back.
func (c *Clock) Step(at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if at.After(c.at) {
		c.at = at
	}
}

// Go lets the clock go on by itself: for a server that is looked at after the day.
func (c *Clock) Go() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.since.IsZero() {
		c.since = time.Now()
	}
}
