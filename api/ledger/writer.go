package ledger

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"time"

	"benchmeet/api/store"
)

// pending is an order that waits for its answer.
type pending[C any] struct {
	order   Order[C]
	content [32]byte
	answer  chan outcome
}

type outcome struct {
	receipt Receipt
	err     error
}

// write is the stream's only writer in this process. It carries out what has
// come in, for as long as anything comes in.
func (s *stream[S, C, E]) write() {
	defer s.ledger.writers.Done()
	if !s.ledger.alone || runtime.GOMAXPROCS(0) == 1 {
		// On one processor the writer would run before whoever is ready behind the order that started
		// it, and all of them would come one by one; a trip to a database is dear enough to wait for
		// them anywhere. Where neither is so, giving way only costs a change of processors.
		runtime.Gosched()
	}
	for batch := s.ledger.next(s); len(batch) > 0; batch = s.ledger.next(s) {
		s.carryOut(batch)
		s.ledger.gather(s, len(batch))
	}
}

// gatherings is how often at most those who have been answered are let in front of the
// next batch.
const gatherings = 4

// gather lets those who were answered together give their next orders, so that they
// wait together again: without it the first of them has the next commit for itself, and
// all others wait for two. Who is alone waits for nobody.
func (l *Ledger[S, C, E]) gather(s *stream[S, C, E], answered int) {
	for n := 0; n < gatherings && answered > 1; n++ {
		l.mu.Lock()
		waiting := len(s.orders)
		l.mu.Unlock()
		if waiting >= answered {
			return
		}
		runtime.Gosched()
	}
}

func (s *stream[S, C, E]) carryOut(batch []*pending[C]) {
	outcomes, err := s.batch(batch)
	if err == nil {
		for i, p := range batch {
			p.answer <- outcomes[i]
		}
		return
	}
	if len(batch) == 1 {
		batch[0].answer <- outcome{err: err}
		return
	}
	if errors.Is(err, store.ErrAway) { // for each of them, and the ones behind them need not wait for it
		for _, p := range batch {
			p.answer <- outcome{err: err}
		}
		return
	}
	failures := 0 // nothing was kept: one by one, only the cause fails
	for _, p := range batch {
		if failures == mostFailures {
			p.answer <- outcome{err: err}
			continue
		}
		var one []outcome
		switch one, err = s.batch([]*pending[C]{p}); {
		case err == nil:
			p.answer <- one[0]
			failures = 0
			continue
		case !errors.Is(err, store.ErrConflict): // which only its own order can cause
			failures++
		}
		p.answer <- outcome{err: err}
	}
}

// batch decides orders in one transaction and swaps the state after the commit.
func (s *stream[S, C, E]) batch(batch []*pending[C]) ([]outcome, error) {
	s.writing.Lock()
	defer s.writing.Unlock()
	if err := s.load(s.ledger.ctx); err != nil {
		return nil, err
	}
	ctx, stop := s.ledger.within(s.ledger.ctx, storeWithin) // an order is carried out, whoever still waits for it
	defer stop()
	for try := 1; ; try++ {
		outcomes, err := s.decideBatch(ctx, batch)
		if !errors.Is(err, store.ErrServersChanged) || try == mostEntries || s.ledger.fleet == nil {
			return outcomes, err
		}
		if err := s.ledger.fleet.Look(ctx); err != nil {
			return nil, inTime(ctx, err)
		}
	}
}

// decideBatch is batch by what is known of the other servers. The caller holds writing.
func (s *stream[S, C, E]) decideBatch(ctx context.Context, batch []*pending[C]) ([]outcome, error) {
	if outcomes, done, err := s.beforehand(ctx, batch); done || err != nil {
		return outcomes, inTime(ctx, err)
	}
	w := s.work()
	var outcomes []outcome
	err := s.ledger.logs.Write(ctx, s.name, func(tx store.Tx) (err error) {
		defer fault(&err)
		if err := tx.Read(ctx, w.head.Seq, w.fold); err != nil {
			return err
		}
		outcomes, err = w.decideAll(ctx, tx, batch)
		return err
	})
	if err != nil {
		return nil, inTime(ctx, err)
	}
	s.swap(w)
	return outcomes, nil
}

// How long the store may take for a batch or a look, and for reading a whole log. A
// database behind a cut cable answers nothing and refuses nothing: whoever waited for it
// for ever would hold up its stream after the cable is mended.
const (
	storeWithin = 15 * time.Second
	loadWithin  = 2 * time.Minute
)

// within bounds what the store may take, where it may be at another machine.
func (l *Ledger[S, C, E]) within(ctx context.Context, d time.Duration) (context.Context, context.CancelFunc) {
	if l.alone {
		return ctx, func() {}
	}
	return context.WithTimeout(ctx, d)
}

// inTime says of what took the store's time that the store is away.
func inTime(ctx context.Context, err error) error {
	if err == nil || !errors.Is(ctx.Err(), context.DeadlineExceeded) || errors.Is(err, store.ErrAway) {
		return err
	}
	return fmt.Errorf("%w (no answer in time: %w)", store.ErrAway, err)
}

// fault makes an error of a panic: a fault of a rule must fail its own order and
// not the venue, and a retry of the order must not stop the server again.
func fault(err *error) {
	if what := recover(); what != nil {
		*err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
	}
}
