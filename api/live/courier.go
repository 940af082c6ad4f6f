package live

import (
	"context"
	"runtime"
	"sync"
	"time"
)

// courier writes to its share of all listeners, one after the other, from one goroutine:
// there is a courier for each processor, and neither a timer nor a writer for each
// listener.
type courier struct {
	wake chan struct{} // has room for one

	mu    sync.Mutex
	due   []*group // whose topics of the log changed
	loud  []*group // that have live speed to tell
	round [rounds][]*listener
	next  int // moment of the round for who comes next
}

// The courier goes once round all listeners in pingEvery, a moment each second: they
// are told that the connection lives at four moments of it, and asked at one.
const (
	moment = time.Second
	rounds = int(pingEvery / moment)
	stills = int(stillEvery / moment)
)

func newCourier() *courier { return &courier{wake: make(chan struct{}, 1)} }

// run works until ctx is done.
func (c *courier) run(ctx context.Context) {
	beat := time.NewTicker(moment)
	defer beat.Stop()
	speak := time.NewTimer(time.Hour)
	defer speak.Stop()
	speaks := false // whether it will
	spoke := time.Now()
	breathe := c.breathing()
	for now := 0; ; {
		select {
		case <-ctx.Done():
			return
		case <-beat.C:
			now = (now + 1) % rounds
			c.beat(now, breathe)
			continue
		case <-speak.C:
			spoke, speaks = time.Now(), false
			c.speak(breathe)
			continue
		case <-c.wake:
		}
		for _, g := range c.takeDue() {
			g.deliver(breathe)
		}
		if !speaks && c.isLoud() {
			speaks = true
			speak.Reset(max(0, telemetryEvery-time.Since(spoke)))
		}
	}
}

// breathing gives a function that lets others work now and then: who waits for the
// answer to an order does not wait for thousands of screens.
func (c *courier) breathing() func() {
	const every = 16 // writes, some tenth of a millisecond
	n := 0
	return func() {
		if n++; n%every == 0 {
			runtime.Gosched()
		}
	}
}

// changed has the courier look at a group.
func (c *courier) changed(g *group) {
	c.mu.Lock()
	if !g.isDue {
		g.isDue, c.due = true, append(c.due, g)
	}
	c.mu.Unlock()
	c.rouse()
}

// speaks has the courier tell a group of live speed, when it is time.
func (c *courier) speaks(g *group) {
	c.mu.Lock()
	was := g.isLoud
	if !was {
		g.isLoud, c.loud = true, append(c.loud, g)
	}
	c.mu.Unlock()
	if !was {
		c.rouse()
	}
}

func (c *courier) rouse() {
	select {
	case c.wake <- struct{}{}:
	default: // it has not looked since the last time
	}
}

func (c *courier) takeDue() []*group {
	c.mu.Lock()
	defer c.mu.Unlock()
	due := c.due
	for _, g := range due {
		g.isDue = false
	}
	c.due = nil
	return due
}

func (c *courier) isLoud() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	return len(c.loud) > 0
}

// speak tells all groups that have something to hear.
func (c *courier) speak(breathe func()) {
	c.mu.Lock()
	loud := c.loud
	for _, g := range loud {
		g.isLoud = false
	}
	c.loud = nil
	c.mu.Unlock()
	for _, g := range loud {
		g.speak(breathe)
	}
}

// beat tells the listeners whose moment it is that their connection lives.
func (c *courier) beat(now int, breathe func()) {
	at := time.Now()
	for m := now % stills; m < rounds; m += stills {
		c.mu.Lock()
		all := append([]*listener(nil), c.round[m]...)
		c.mu.Unlock()
		for _, l := range all {
			l.beat(m == now, at)
			breathe()
		}
	}
}

// add takes a listener into the round, and remove out of it.
func (c *courier) add(l *listener) {
	c.mu.Lock()
	defer c.mu.Unlock()
	l.moment = c.next
	c.next = (c.next + 1) % rounds
	l.at = len(c.round[l.moment])
	c.round[l.moment] = append(c.round[l.moment], l)
}

func (c *courier) remove(l *listener) {
	c.mu.Lock()
	defer c.mu.Unlock()
	of := c.round[l.moment]
	end := len(of) - 1
	of[l.at] = of[end]
	of[l.at].at = l.at
	of[end] = nil
	c.round[l.moment] = of[:end]
}

// all are the courier's listeners.
func (c *courier) all() (all []*listener) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, some := range c.round {
		all = append(all, some...)
	}
	return all
}
