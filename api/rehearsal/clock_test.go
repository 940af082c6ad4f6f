package rehearsal

import (
	"testing"
	"time"
)

// TestClock: it stands still, is stepped on and never back, and goes on by itself when it is let go.
func TestClock(t *testing.T) {
	at := time.Date(2027, 4, 17, 9, 0, 0, 0, time.UTC)
	c := NewClock(at)
	time.Sleep(2 * time.Millisecond)
	if !c.Now().Equal(at) {
		t.Errorf("a clock that nobody steps says %s", c.Now())
	}
	c.Step(at.Add(time.Hour))
	c.Step(at)
	if want := at.Add(time.Hour); !c.Now().Equal(want) {
		t.Errorf("stepped to %s it says %s", want, c.Now())
	}
	c.Go()
	time.Sleep(2 * time.Millisecond)
	if gone := c.Now().Sub(at.Add(time.Hour)); gone < time.Millisecond || gone > time.Minute {
		t.Errorf("let go, it went on by %s", gone)
	}
}
