package ledger

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/store"
)

// load reads the stream from the store if that was not done yet. The caller
// holds writing.
func (s *stream[S, C, E]) load(ctx context.Context) error {
	if s.snapshot().State != nil {
		return nil
	}
	if err := s.damaged(); err != nil {
		return err
	}
	ctx, stop := s.ledger.within(ctx, loadWithin)
	defer stop()
	w, err := s.resume(ctx)
	if w == nil && err == nil {
		w = &work[S, C, E]{stream: s, state: s.ledger.model.New(), copied: true}
		err = readAhead(ctx, s.ledger.logs, s.name, 0, w.fold)
	}
	if errors.Is(err, ErrDamaged) {
		says := "a log is damaged; benchmeet verify says more"
		if errors.Is(err, ErrLater) {
			says = "a log was written by a later version of the program; start this server with that version"
		}
		s.ledger.log.Error(says, "stream", s.name.String(), "error", err)
		s.mu.Lock()
		s.damage, s.found = err, time.Now()
		s.mu.Unlock()
	}
	if err != nil {
		return err
	}
	w.state = s.ledger.model.Clone(w.state) // others share it from here on
	s.swap(w)
	return nil
}

// damaged is the damage that was found a short while ago.
func (s *stream[S, C, E]) damaged() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.damage != nil && time.Since(s.found) < damageFor {
		return s.damage
	}
	return nil
}

// swap makes the work the stream's state and tells the watchers.
func (s *stream[S, C, E]) swap(w *work[S, C, E]) {
	if !w.copied {
		return
	}
	s.ledger.moved(store.StreamHead{Stream: s.name, Head: w.head})
	defer s.keep()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.state, s.head, s.timeUS, s.damage = w.state, w.head, w.timeUS, nil
	for c := range s.watchers {
		select {
		case c <- struct{}{}:
		default: // it has not looked since the last one
		}
	}
}

// catchUp takes in what other processes wrote.
func (s *stream[S, C, E]) catchUp(ctx context.Context) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	return s.catchUpAlone(ctx)
}

// catchUpAlone is catchUp for a caller that holds writing. Where nothing was
// written it costs a look into the store and no copy of the state.
func (s *stream[S, C, E]) catchUpAlone(ctx context.Context) error {
	if s.snapshot().State == nil {
		return s.load(ctx) // as of now: nothing is missing
	}
	ctx, stop := s.ledger.within(ctx, storeWithin)
	defer stop()
	w := s.work()
	if err := s.ledger.logs.Read(ctx, s.name, w.head.Seq, w.fold); err != nil {
		return err
	}
	s.swap(w)
	return nil
}
