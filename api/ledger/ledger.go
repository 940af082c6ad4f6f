package ledger

import (
	"context"
	"crypto/rand"
	"encoding/binary"
	"log/slog"
	"sync"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// Ledger keeps the streams of one model.
type Ledger[S any, C any, E Fact] struct {
	logs  store.Logs
	model Model[S, C, E]
	key   []byte
	now   func() time.Time
	seed  func(order string) uint64
	log   *slog.Logger

	ctx  context.Context // ends the writers
	stop context.CancelFunc
	done sync.WaitGroup

	mu      sync.Mutex
	streams map[store.Stream]*stream[S, C, E]
}

// Options are what a ledger needs from outside.
type Options struct {
	Logs store.Logs
	// Key keys the hashes of command contents; see store.Secret.
	Key []byte
	// Now is the server's clock; nil is time.Now.
	Now func() time.Time
	// Seed draws a fresh seed below 2^53 for an order; nil is the system's random
	// source. Only a rehearsal derives it from the order's id, so that it can be
	// played again.
	Seed func(order string) uint64
	Log  *slog.Logger
}

// New makes a ledger. Close ends it.
func New[S any, C any, E Fact](model Model[S, C, E], o Options) *Ledger[S, C, E] {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Seed == nil {
		o.Seed = RandomSeed
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	ctx, stop := context.WithCancel(context.Background())
	return &Ledger[S, C, E]{
		logs: o.Logs, model: model, key: o.Key, now: o.Now, seed: o.Seed, log: o.Log,
		ctx: ctx, stop: stop, streams: map[store.Stream]*stream[S, C, E]{},
	}
}

// RandomSeed draws a seed below 2^53 from the system's random source.
func RandomSeed(string) uint64 {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return binary.BigEndian.Uint64(b[:]) >> 11
}

// Close lets the commands under way finish and ends the writers. Orders after it
// fail.
func (l *Ledger[S, C, E]) Close() {
	l.stop()
	l.done.Wait()
}

// Snapshot is a stream's state with its place in the log. Readers must not
// change the state.
type Snapshot[S any] struct {
	State *S
	Head  journal.Head
}

// Do carries a command out: when it returns without an error, what it caused is
// on disk. The error is a *refusal.Refusal where a rule says no,
// ErrOtherContent for a used id, anything else where the store failed.
func (l *Ledger[S, C, E]) Do(ctx context.Context, s store.Stream, o Order[C]) (Receipt, error) {
	return l.writer(s).do(ctx, o)
}

// At returns the stream's newest state that this process knows, at least at a
// position: where it is behind, it looks into the store, again and again until
// ctx is done.
func (l *Ledger[S, C, E]) At(ctx context.Context, s store.Stream, atLeast int64) (Snapshot[S], error) {
	snapshot, err := l.stream(s).at(ctx, atLeast)
	if err == nil && snapshot.Head.Seq == 0 {
		l.forget(s) // whoever asks for what is not there leaves nothing behind
	}
	return snapshot, err
}

// Watch calls the returned channel's listener after each change of the stream;
// changes in quick succession may come as one. The function ends the watching.
func (l *Ledger[S, C, E]) Watch(s store.Stream) (<-chan struct{}, func()) {
	l.mu.Lock() // so that forget does not drop the stream in between
	defer l.mu.Unlock()
	return l.find(s).watch()
}

// Follow looks for what other processes have written, on each notice and every
// interval, until ctx is done. One call serves all streams that are loaded.
func (l *Ledger[S, C, E]) Follow(ctx context.Context, notices <-chan store.Stream, every time.Duration) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case s, open := <-notices:
			if !open {
				notices = nil
				continue
			}
			l.refresh(ctx, func(have store.Stream) bool { return have == s })
		case <-tick.C:
			l.refresh(ctx, func(store.Stream) bool { return true })
		}
	}
}

func (l *Ledger[S, C, E]) refresh(ctx context.Context, which func(store.Stream) bool) {
	l.mu.Lock()
	var due []*stream[S, C, E]
	for name, s := range l.streams {
		if which(name) {
			due = append(due, s)
		}
	}
	l.mu.Unlock()
	for _, s := range due {
		if err := s.catchUp(ctx); err != nil && ctx.Err() == nil {
			l.log.Warn("catching up failed; trying again later", "stream", s.name.String(), "error", err)
		}
	}
}

// stream finds or makes a stream.
func (l *Ledger[S, C, E]) stream(name store.Stream) *stream[S, C, E] {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.find(name)
}

func (l *Ledger[S, C, E]) find(name store.Stream) *stream[S, C, E] {
	s, there := l.streams[name]
	if !there {
		s = newStream(l, name)
		l.streams[name] = s
	}
	return s
}

// writer finds a stream and starts its writer if that was not done.
func (l *Ledger[S, C, E]) writer(name store.Stream) *stream[S, C, E] {
	l.mu.Lock()
	defer l.mu.Unlock()
	s := l.find(name)
	if !s.started && l.ctx.Err() == nil {
		s.started = true
		l.done.Add(1)
		go s.write()
	}
	return s
}

// forget drops a stream that nobody writes to or watches.
func (l *Ledger[S, C, E]) forget(name store.Stream) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if s, there := l.streams[name]; there && !s.started && !s.watched() {
		delete(l.streams, name)
	}
}
