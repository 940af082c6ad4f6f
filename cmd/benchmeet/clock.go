package main

import (
	"context"
	"fmt"
	"io"
	"sync"
	"time"

	"benchmeet/domain/journal"
)

// clock is the server's clock. A rehearsal runs it faster than life.
type clock struct {
	start time.Time
	scale float64
	wall  func() time.Time // the machine's clock; tests have their own
}

func newClock(scale float64, wall func() time.Time) clock {
	if wall == nil {
		wall = time.Now
	}
	return clock{wall(), scale, wall}
}

// now is the server's time: real time, or the start plus the scaled time since.
func (c clock) now() time.Time {
	if c.scale == 1 {
		return c.wall()
	}
	return c.start.Add(time.Duration(float64(time.Since(c.start)) * c.scale))
}

const (
	clockEvery = 2 * time.Second // how often the clock is looked at
	// clockJumps is by how much a clock has to go another way than time does: what keeps
	// clocks right moves them by less at once.
	clockJumps = 5 * time.Second
	// aheadBy is by how much the log may be ahead of the clock unsaid.
	aheadBy = 30 * time.Second
)

// jumps are those of the machine's clock since the server started.
type jumps struct {
	mu   sync.Mutex
	last jump
}

// jump is one: when it was noticed, by the clock after it, and by how much it went
// ahead; less than nothing is back.
type jump struct {
	at      time.Time
	by      time.Duration
	noticed time.Time // with the part that knows no jumps
}

// jumpSaidFor is how long the desk is told of a jump: whoever comes to it from the hall
// has to see it, and a clock that was put right is right from then on.
const jumpSaidFor = 15 * time.Minute

// lately is when the clock jumped last, by the clock after it, where that was noticed a
// short while ago by time that knows no jumps.
func (j *jumps) lately() (at time.Time, jumped bool) {
	last, jumped := j.latest()
	return last.at.UTC(), jumped && time.Since(last.noticed) < jumpSaidFor
}

func (j *jumps) latest() (jump, bool) {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.last, j.last.by != 0
}

// watchClock notices where the machine's clock goes another way than time does.
func (s *server) watchClock(ctx context.Context) {
	began, wall := time.Now(), s.clock.wall().Round(0) // without the part that knows no jumps
	tick := time.NewTicker(clockEvery)
	defer tick.Stop()
	for off := time.Duration(0); ; {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := s.clock.wall().Round(0)
		by := now.Sub(wall) - time.Since(began) - off
		if by.Abs() < clockJumps {
			continue
		}
		off += by
		s.jumps.mu.Lock()
		s.jumps.last = jump{now, by, time.Now()}
		s.jumps.mu.Unlock()
		s.options.Log.Warn(
			"this computer's clock has jumped, or it slept: look whether it is right now",
			"by", by.Round(time.Second), "now", now.UTC().Format(time.RFC3339),
		)
		if err := s.sayIfAhead(ctx, io.Discard); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("the newest event could not be compared with the clock", "error", err)
		}
	}
}

// sayIfAhead says where the newest event of the log is later than the clock: then one of
// the two is wrong, and no time of that day ends.
func (s *server) sayIfAhead(ctx context.Context, out io.Writer) error {
	heads, err := s.store.Streams(ctx, s.options.Club.ID)
	if err != nil {
		return err
	}
	now := s.clock.now()
	for _, head := range heads {
		var at int64
		err := s.store.Read(ctx, head.Stream, head.Head.Seq-1, func(r journal.Record) error {
			e, err := r.Open()
			at = max(at, e.Time)
			return err
		})
		if err != nil {
			continue // a damaged log is said where somebody asks for it
		}
		newest := time.UnixMicro(at)
		if newest.Sub(now) < aheadBy {
			continue
		}
		s.options.Log.Warn("the log is ahead of this computer's clock", "stream", head.Stream.String(),
			"newest event", newest.UTC().Format(time.RFC3339), "clock", now.UTC().Format(time.RFC3339))
		fmt.Fprintf(out, "\nThe newest event of %s is of %s, and this computer's clock says %s.\n"+
			"One of them is wrong, and no call and no protest time ends before it is right: set the clock if it is wrong;\n"+
			"if it is right now, set the day's times right on the desk, page Now.\n",
			head.Stream, newest.Format("2006-01-02 15:04:05"), now.Format("2006-01-02 15:04:05"))
	}
	return nil
}
