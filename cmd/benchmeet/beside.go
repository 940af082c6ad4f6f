package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"time"

	"benchmeet/api/store"
)

// How long work beside the requests rests after a fault of the program, before it is
// begun again: each time twice as long.
const (
	beginAgain  = time.Second
	beginSeldom = time.Minute
)

// beside is what runs beside the requests: begun, watched, and waited for at the end.
type beside struct {
	ctx   context.Context
	stop  context.CancelFunc
	group sync.WaitGroup

	mu   sync.Mutex
	down map[string]error // what rests after a fault now
}

func newBeside() *beside {
	ctx, stop := context.WithCancel(context.Background())
	return &beside{ctx: ctx, stop: stop, down: map[string]error{}}
}

// task runs work that ends with the server. A fault of the program is reported, and the
// work is begun again.
func (s *server) task(name string, do func(context.Context)) {
	b := s.beside
	b.group.Go(func() {
		for rest := beginAgain; ; rest = min(2*rest, beginSeldom) {
			err := s.run(name, do)
			if err == nil || b.ctx.Err() != nil {
				return
			}
			b.set(name, err)
			select {
			case <-b.ctx.Done():
				return
			case <-time.After(rest):
			}
			b.set(name, nil)
		}
	})
}

// once runs work that ends by itself, or with the server.
func (s *server) once(name string, do func(context.Context)) {
	s.beside.group.Go(func() { _ = s.run(name, do) }) // a fault is reported, and there is nobody else to tell
}

// run reports a fault of the program.
func (s *server) run(name string, do func(context.Context)) error {
	err := outlived(func() error { do(s.beside.ctx); return nil })
	if err != nil {
		s.metrics.Fault(name)
		s.options.Log.Error("work beside the requests met a fault of the program", "work", name, "error", err)
	}
	return err
}

// set notes that a piece of work rests after a fault, or goes on.
func (b *beside) set(name string, err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err == nil {
		delete(b.down, name)
		return
	}
	b.down[name] = err
}

// resting are the names of the work that rests after a fault.
func (b *beside) resting() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	var out []string
	for name := range b.down {
		out = append(out, name)
	}
	return out
}

// background starts what runs beside the requests.
func (s *server) background() {
	for name, follow := range map[string]func(context.Context, <-chan store.Stream, time.Duration){
		"following meets": s.meets.Follow, "following the club": s.clubs.Follow,
	} {
		s.task(name, func(ctx context.Context) { follow(ctx, s.changes(ctx), followEvery) })
	}
	s.task("sweeping", s.sweep)
	if s.fleet != nil {
		s.task("keeping its place among servers", s.fleet.Keep)
	}
	if s.options.Scale == 1 && !s.options.Stepped {
		s.task("watching the clock", s.watchClock)
	}
}

// changes are the notices of what other servers wrote. A database that is away in just
// this moment is asked again; meanwhile there are none, and nothing is missed, because
// whoever follows looks by itself too.
func (s *server) changes(ctx context.Context) <-chan store.Stream {
	if notices, err := s.store.Changes(ctx); err == nil {
		return notices
	}
	out := make(chan store.Stream)
	go func() {
		defer close(out)
		for said := false; ; {
			select {
			case <-ctx.Done():
				return
			case <-time.After(followEvery):
			}
			notices, err := s.store.Changes(ctx)
			if err != nil {
				if !said && ctx.Err() == nil {
					s.options.Log.Warn("no notices of what other servers write; asking for them again", "error", err)
				}
				said = true
				continue
			}
			for one := range notices {
				select {
				case out <- one:
				case <-ctx.Done():
					return
				}
			}
			return
		}
	}()
	return out
}

// sweepWithin is how long a sweep may take: a database behind a cut cable may answer nothing
// at all, and the next sweep asks it anew.
const sweepWithin = 5 * time.Minute

func (s *server) sweep(ctx context.Context) {
	tick := time.NewTicker(sweepEvery)
	defer tick.Stop()
	for {
		s.sweepOnce(ctx)
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

func (s *server) sweepOnce(ctx context.Context) {
	within, stop := context.WithTimeout(ctx, sweepWithin)
	defer stop()
	if err := s.hosted.Look(within); err != nil && ctx.Err() == nil {
		s.options.Log.Warn("the list of clubs could not be read; trying again", "error", err)
	}
	for _, c := range s.hosted.All() {
		s.sweepClub(within, c.ID)
	}
	if err := outlived(func() error { return s.store.Overwrite(within) }); err != nil && ctx.Err() == nil {
		s.options.Log.Warn("an erasure waits to be finished; trying again", "error", err)
	}
}

func (s *server) sweepClub(ctx context.Context, club string) {
	for _, one := range []struct {
		do    func(context.Context, string) error
		waits string
	}{
		{s.intake.Sweep, "runs wait to be recorded; trying again"},
		{s.erasures.Remove, "an erasure waits to be finished; trying again"},
		{s.ratings.Sweep, "published results wait to be rated; trying again"},
	} {
		if err := outlived(func() error { return one.do(ctx, club) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn(one.waits, "club", club, "error", err)
		}
	}
}

// outlived makes an error of a panic: a fault in one sweep must not end the venue.
func outlived(do func() error) (err error) {
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
		}
	}()
	return do()
}
