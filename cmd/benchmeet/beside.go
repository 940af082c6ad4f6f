package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"benchmeet/api/store"
)

// background starts what runs beside the requests.
func (s *server) background() error {
	ctx, stop := context.WithCancel(context.Background())
	s.stop = stop
	for _, follow := range []func(context.Context, <-chan store.Stream, time.Duration){s.meets.Follow, s.clubs.Follow} {
		notices, err := s.store.Changes(ctx)
		if err != nil {
			return err
		}
		s.beside.Go(func() { follow(ctx, notices, followEvery) })
	}
	s.beside.Go(func() { s.sweep(ctx) })
	return nil
}

// run runs something beside the requests until the server ends.
func (s *server) run(ctx context.Context, do func(context.Context)) {
	ctx, stop := context.WithCancel(ctx)
	s.beside.Go(func() {
		defer stop()
		do(ctx)
	})
	before := s.stop
	s.stop = func() { stop(); before() }
}

func (s *server) sweep(ctx context.Context) {
	tick := time.NewTicker(sweepEvery)
	defer tick.Stop()
	for {
		if err := outlived(func() error { return s.intake.Sweep(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("runs wait to be recorded; trying again", "error", err)
		}
		if err := outlived(func() error { return s.erasures.Finish(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("an erasure waits to be finished; trying again", "error", err)
		}
		if err := outlived(func() error { return s.ratings.Sweep(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("published results wait to be rated; trying again", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
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
