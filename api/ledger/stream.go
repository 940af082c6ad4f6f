package ledger

import (
	"context"
	"errors"
	"sync"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// most commands that are decided in one transaction.
const mostInBatch = 256

// stream is one log with its state and its writer.
type stream[S any, C any, E Fact] struct {
	ledger *Ledger[S, C, E]
	name   store.Stream
	// orders wait for the writer; writes says whether it runs. Both are guarded by
	// the ledger's mutex.
	orders []*pending[C]
	writes bool
	used   time.Time // when somebody asked for it last; guarded likewise

	// writing is held while the state is being replaced: by the writer, and by
	// whoever catches up.
	writing sync.Mutex
	looked  time.Time // when the store was last asked for more; guarded by writing

	mu       sync.Mutex // guards what follows
	state    *S         // nil until loaded
	head     journal.Head
	timeUS   int64
	watchers map[chan struct{}]struct{}
	damage   error // why the log could not be folded
	found    time.Time
	// What is kept of the state between two starts; see keep.
	keeping   bool
	keptSeq   int64
	keptParts []string
}

func newStream[S any, C any, E Fact](l *Ledger[S, C, E], name store.Stream) *stream[S, C, E] {
	return &stream[S, C, E]{ledger: l, name: name, watchers: map[chan struct{}]struct{}{}}
}

// mostFailures is how many orders in a row may fail one by one before the rest
// of their batch is failed unseen: the store is away then, and who sends again
// finds out sooner than who waits.
const mostFailures = 3

// damageFor is how long a damaged log is not read again, so that those who ask
// for it cost nothing. Somebody may put a sound copy in its place.
const damageFor = time.Minute

// waitStep is how long a reader that is ahead of the store waits before it looks
// again; each time twice as long, up to mostWait.
const (
	waitStep = 20 * time.Millisecond
	mostWait = 500 * time.Millisecond
)

func (s *stream[S, C, E]) at(ctx context.Context, atLeast int64) (Snapshot[S], error) {
	now := s.snapshot()
	if now.State != nil && now.Head.Seq >= atLeast {
		return now, nil
	}
	changes, stop := s.watch()
	defer stop()
	for wait := waitStep; ; wait = min(2*wait, mostWait) {
		now, err := s.look(ctx, atLeast)
		switch {
		case err != nil || now.Head.Seq >= atLeast:
			return now, err
		case atLeast-now.Head.Seq > mostAhead:
			return Snapshot[S]{}, &BehindError{Asked: atLeast, Now: now.Head.Seq, Never: true}
		}
		timer := time.NewTimer(wait)
		select {
		case <-ctx.Done():
			timer.Stop()
			if errors.Is(ctx.Err(), context.DeadlineExceeded) {
				return Snapshot[S]{}, &BehindError{Asked: atLeast, Now: now.Head.Seq, cause: ctx.Err()}
			}
			return Snapshot[S]{}, ctx.Err()
		case <-changes:
		case <-timer.C:
		}
		timer.Stop()
	}
}

// look catches up unless the position was reached while it waited for its turn,
// and unless the writer or another reader is at it or was a moment ago: many
// readers that wait for a position must not queue in front of the writer, nor
// keep the store busy. Where no other process writes, there is nothing to catch
// up with.
func (s *stream[S, C, E]) look(ctx context.Context, atLeast int64) (Snapshot[S], error) {
	now := s.snapshot()
	switch {
	case now.State == nil:
		s.writing.Lock() // nothing is loaded yet: every reader needs that
	case s.ledger.alone || !s.writing.TryLock():
		return now, nil
	}
	defer s.writing.Unlock()
	now = s.snapshot()
	if now.State != nil && (now.Head.Seq >= atLeast || time.Since(s.looked) < waitStep) {
		return now, nil
	}
	s.looked = time.Now()
	if err := s.catchUpAlone(ctx); err != nil {
		return Snapshot[S]{}, err
	}
	return s.snapshot(), nil
}

func (s *stream[S, C, E]) snapshot() Snapshot[S] {
	s.mu.Lock()
	defer s.mu.Unlock()
	return Snapshot[S]{s.state, s.head}
}

func (s *stream[S, C, E]) watch() (<-chan struct{}, func()) {
	c := make(chan struct{}, 1)
	s.mu.Lock()
	s.watchers[c] = struct{}{}
	s.mu.Unlock()
	return c, func() {
		s.mu.Lock()
		delete(s.watchers, c)
		s.mu.Unlock()
	}
}

// idle says that the stream has no events, as far as it can be read, and nobody
// watches it.
func (s *stream[S, C, E]) idle() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.head.Seq == 0 && len(s.watchers) == 0 && s.damage == nil
}

func (s *stream[S, C, E]) watched() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.watchers) > 0
}
