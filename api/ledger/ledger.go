package ledger

import (
	"context"
	"crypto/rand"
	"encoding/binary"
	"errors"
	"log/slog"
	"maps"
	"slices"
	"sync"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// Ledger keeps the streams of one model.
type Ledger[S any, C any, E Fact] struct {
	logs   store.Logs
	caches store.Caches
	model  Model[S, C, E]
	key    []byte
	now    func() time.Time
	seed   func(order string) uint64
	log    *slog.Logger
	alone  bool
	fleet  Fleet

	// ctx is what orders are carried out under: whoever gave one may go away, and
	// only a stop that cannot wait any longer ends it.
	ctx     context.Context
	give    context.CancelFunc
	writers sync.WaitGroup

	mu      sync.Mutex // guards what follows, and each stream's queue
	closed  bool
	streams map[store.Stream]*stream[S, C, E]
	lists   map[string]*list // by club
	// summaries are those that were asked for, each as of some place in its log.
	summaries map[store.Stream]Summary
}

// Options are what a ledger needs from outside.
type Options struct {
	Logs store.Logs
	// Caches keep states and summaries between two starts; nil keeps none.
	Caches store.Caches
	// Key keys the hashes of command contents; see store.Secret.
	Key []byte
	// Now is the server's clock; nil is time.Now.
	Now func() time.Time
	// Seed draws a fresh seed below 2^53 for an order; nil is the system's random
	// source. Only a rehearsal derives it from the order's id, so that it can be
	// played again.
	Seed func(order string) uint64
	Log  *slog.Logger
	// Alone says that no other process can write to the store: then nobody has to
	// look for what others wrote.
	Alone bool
	// Fleet are the servers that share the store; nil where no other server reads what
	// this one writes.
	Fleet Fleet
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
	ctx, give := context.WithCancel(context.Background())
	return &Ledger[S, C, E]{
		logs: o.Logs, caches: o.Caches, model: model, key: o.Key, now: o.Now, seed: o.Seed, log: o.Log, alone: o.Alone, fleet: o.Fleet,
		ctx: ctx, give: give, streams: map[store.Stream]*stream[S, C, E]{}, lists: map[string]*list{},
		summaries: map[store.Stream]Summary{},
	}
}

// RandomSeed draws a seed below 2^53 from the system's random source.
func RandomSeed(string) uint64 {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return binary.BigEndian.Uint64(b[:]) >> 11
}

// How long Close waits for orders under way, and then for the store to give up.
const (
	closeWithin  = 2 * time.Second
	giveUpWithin = time.Second
)

// Close refuses new orders and returns when those that had come in are carried
// out and answered. A store that does not answer holds it up for three seconds
// and no longer. Reading goes on as long as the store does.
func (l *Ledger[S, C, E]) Close() {
	l.mu.Lock()
	l.closed = true
	l.mu.Unlock()
	done := make(chan struct{})
	go func() {
		l.writers.Wait()
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(closeWithin):
		l.give()
		select {
		case <-done:
		case <-time.After(giveUpWithin):
			l.log.Error("stopping while orders are under way: the database does not answer")
		}
	}
	l.give()
}

// Snapshot is a stream's state with its place in the log. Readers must not
// change the state.
type Snapshot[S any] struct {
	State *S
	Head  journal.Head
}

// ErrClosed is returned for an order that comes after Close.
var ErrClosed = errors.New("the server is shutting down: send the order again in a moment")

// Do carries a command out: when it returns without an error, what it caused is
// on disk. The error is a *refusal.Refusal where a rule says no,
// ErrOtherContent for a used id, anything else where the store failed; then, and
// where ctx was done first, the order may have been carried out all the same: a
// retry gets its answer.
func (l *Ledger[S, C, E]) Do(ctx context.Context, s store.Stream, o Order[C]) (Receipt, error) {
	if err := ctx.Err(); err != nil {
		return Receipt{}, err
	}
	p := &pending[C]{order: o, content: keyed(l.key, o.Content), answer: make(chan outcome, 1)}
	if !l.queue(s, p) {
		return Receipt{}, ErrClosed
	}
	select {
	case out := <-p.answer:
		return out.receipt, out.err
	case <-ctx.Done():
		return Receipt{}, ctx.Err()
	}
}

// queue puts an order behind the others of its stream and starts the stream's
// writer where it rests; false after Close.
func (l *Ledger[S, C, E]) queue(name store.Stream, p *pending[C]) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return false
	}
	s := l.find(name)
	s.orders = append(s.orders, p)
	if !s.writes {
		s.writes = true
		l.writers.Add(1)
		go s.write()
	}
	return true
}

// beside runs something beside the orders that Close waits for as for them; false
// after Close.
func (l *Ledger[S, C, E]) beside(do func()) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return false
	}
	l.writers.Go(do)
	return true
}

// closing says that Close was called.
func (l *Ledger[S, C, E]) closing() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.closed
}

// next takes the orders that wait, at most a batch. Without any the writer has
// to rest.
func (l *Ledger[S, C, E]) next(s *stream[S, C, E]) []*pending[C] {
	l.mu.Lock()
	defer l.mu.Unlock()
	batch := s.orders[:min(len(s.orders), mostInBatch)]
	s.orders = s.orders[len(batch):]
	if len(batch) == 0 {
		s.orders, s.writes = nil, false
		l.forget(s)
	}
	return batch
}

// At returns the stream's newest state that this process knows, at least at a
// position: where it is behind, it looks into the store, again and again until
// ctx is done. A position that does not come is a *BehindError, at once where it
// is so far ahead that nobody can have been told of it. A log that cannot be
// folded is ErrDamaged.
func (l *Ledger[S, C, E]) At(ctx context.Context, name store.Stream, atLeast int64) (Snapshot[S], error) {
	l.mu.Lock()
	s := l.find(name)
	l.mu.Unlock()
	snapshot, err := s.at(ctx, atLeast)
	if err != nil || snapshot.Head.Seq == 0 {
		l.mu.Lock()
		l.forget(s) // whoever asks for what is not there leaves nothing behind
		l.mu.Unlock()
	}
	return snapshot, err
}

// Newest is At for whoever judges by a state outside of an order: it knows all that any
// process had written when it was asked. Where none but this one writes it costs what At
// costs, else a look into the store.
func (l *Ledger[S, C, E]) Newest(ctx context.Context, name store.Stream) (Snapshot[S], error) {
	if l.alone {
		return l.At(ctx, name, 0)
	}
	l.mu.Lock()
	s := l.find(name)
	l.mu.Unlock()
	if err := s.catchUp(ctx); err != nil {
		l.mu.Lock()
		l.forget(s)
		l.mu.Unlock()
		return Snapshot[S]{}, err
	}
	return l.At(ctx, name, 0)
}

// Watch returns a channel that gets a signal after each change of the stream;
// changes in quick succession may come as one. The function ends the watching.
func (l *Ledger[S, C, E]) Watch(name store.Stream) (<-chan struct{}, func()) {
	l.mu.Lock() // so that forget does not drop the stream in between
	defer l.mu.Unlock()
	s := l.find(name)
	changes, stop := s.watch()
	return changes, func() {
		stop()
		l.mu.Lock()
		defer l.mu.Unlock()
		l.forget(s)
	}
}

// idleAfter is how long a state stays in memory that nobody asks for.
const idleAfter = 10 * time.Minute

// Follow looks for what other processes have written, on each notice and every
// interval, until ctx is done; where no other can write it only drops states that
// nobody asked for in a long time. One call serves all streams that are loaded.
func (l *Ledger[S, C, E]) Follow(ctx context.Context, notices <-chan store.Stream, every time.Duration) {
	var look <-chan time.Time
	if !l.alone {
		tick := time.NewTicker(every)
		defer tick.Stop()
		look = tick.C
	}
	tidy := time.NewTicker(idleAfter / 4)
	defer tidy.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case s, open := <-notices:
			if !open {
				notices = nil
				continue
			}
			l.noticed(ctx, s)
		case <-look:
			for _, loaded := range l.loaded() {
				l.refresh(ctx, loaded)
			}
		case <-tidy.C:
			l.unload(idleAfter)
		}
	}
}

// noticed takes in that another process may have written to a stream.
func (l *Ledger[S, C, E]) noticed(ctx context.Context, s store.Stream) {
	l.mu.Lock()
	loaded := l.streams[s]
	if list := l.lists[s.Club]; list != nil {
		list.listed = time.Time{} // it may be a new one
	}
	l.mu.Unlock()
	if loaded != nil {
		l.refresh(ctx, loaded)
	}
}

// unload drops the states that nobody has asked for that long. They are folded
// again when somebody does.
func (l *Ledger[S, C, E]) unload(idle time.Duration) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for name, s := range l.streams {
		if !s.writes && time.Since(s.used) >= idle && !s.watched() {
			delete(l.streams, name)
		}
	}
}

func (l *Ledger[S, C, E]) loaded() []*stream[S, C, E] {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Collect(maps.Values(l.streams))
}

// refresh outlives a fault of the program: it runs beside all orders.
func (l *Ledger[S, C, E]) refresh(ctx context.Context, s *stream[S, C, E]) {
	err := func() (err error) {
		defer fault(&err)
		return s.catchUp(ctx)
	}()
	if err != nil && ctx.Err() == nil && !errors.Is(err, ErrDamaged) { // which was said when it was found
		l.log.Warn("catching up failed; trying again later", "stream", s.name.String(), "error", err)
	}
}

// find finds or makes a stream. The caller holds mu.
func (l *Ledger[S, C, E]) find(name store.Stream) *stream[S, C, E] {
	s, there := l.streams[name]
	if !there {
		s = newStream(l, name)
		l.streams[name] = s
	}
	s.used = time.Now()
	return s
}

// forget drops a stream without events that nobody writes to or watches. The
// caller holds mu.
func (l *Ledger[S, C, E]) forget(s *stream[S, C, E]) {
	if l.streams[s.name] == s && !s.writes && s.idle() {
		delete(l.streams, s.name)
	}
}
