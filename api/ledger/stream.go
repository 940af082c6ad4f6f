package ledger

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
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

func newStream[S any, C any, E Fact](l *Ledger[S, C, E], name store.Stream) *stream[S, C, E] {
	return &stream[S, C, E]{ledger: l, name: name, watchers: map[chan struct{}]struct{}{}}
}

// write is the stream's only writer in this process. It carries out what has
// come in, for as long as anything comes in.
func (s *stream[S, C, E]) write() {
	defer s.ledger.writers.Done()
	for batch := s.ledger.next(s); len(batch) > 0; batch = s.ledger.next(s) {
		s.carryOut(batch)
	}
}

// mostFailures is how many orders in a row may fail one by one before the rest
// of their batch is failed unseen: the store is away then, and who sends again
// finds out sooner than who waits.
const mostFailures = 3

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
	ctx := s.ledger.ctx // an order is carried out, whoever still waits for it
	if err := s.load(ctx); err != nil {
		return nil, err
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
		return nil, err
	}
	s.swap(w)
	return outcomes, nil
}

// fault makes an error of a panic: a fault of a rule must fail its own order and
// not the venue, and a retry of the order must not stop the server again.
func fault(err *error) {
	if what := recover(); what != nil {
		*err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
	}
}

// work is a copy of the stream that a batch may change.
type work[S any, C any, E Fact] struct {
	stream *stream[S, C, E]
	state  *S
	head   journal.Head
	timeUS int64
	dirty  bool
}

func (s *stream[S, C, E]) work() *work[S, C, E] {
	s.mu.Lock()
	defer s.mu.Unlock()
	return &work[S, C, E]{stream: s, state: s.ledger.model.Clone(s.state), head: s.head, timeUS: s.timeUS}
}

// fold takes a stored record in. A record that the program cannot take is damage
// of this log: no other has to stop for it.
func (w *work[S, C, E]) fold(r journal.Record) (err error) {
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("stream %s: %w: record %d met a fault of the program: %v\n%s",
				w.stream.name, ErrDamaged, r.Seq, what, debug.Stack())
		}
	}()
	head, atUS, err := w.stream.ledger.model.fold(w.state, w.head, r)
	if err != nil {
		return fmt.Errorf("stream %s: %w: %w", w.stream.name, ErrDamaged, err)
	}
	w.head, w.timeUS, w.dirty = head, atUS, true
	return nil
}

func (w *work[S, C, E]) decideAll(ctx context.Context, tx store.Tx, batch []*pending[C]) ([]outcome, error) {
	ids := make([]string, 0, len(batch))
	for _, p := range batch {
		ids = append(ids, p.order.ID)
	}
	answered, err := tx.Answers(ctx, ids)
	if err != nil {
		return nil, err
	}
	outcomes := make([]outcome, len(batch))
	var records []journal.Record
	var answers []store.Answer
	for i, p := range batch {
		if old, there := answered[p.order.ID]; there {
			outcomes[i] = again(old, p.content)
			continue
		}
		if p.order.Withdraw {
			answer := store.Answer{Command: p.order.ID, Content: p.content, Body: withdrawn}
			answers, answered[p.order.ID] = append(answers, answer), answer
			outcomes[i].err = ErrWithdrawn
			continue
		}
		made, texts, receipt, err := w.decide(p)
		if err != nil {
			outcomes[i].err = err // a refusal, or an event that cannot be written: this order only
			continue
		}
		for _, person := range p.order.People {
			if err := tx.PutPerson(ctx, person); err != nil {
				return nil, err
			}
		}
		for _, text := range texts {
			if err := tx.PutText(ctx, text); err != nil {
				return nil, err
			}
		}
		records = append(records, made...)
		body, err := json.Marshal(receipt)
		if err != nil {
			return nil, err
		}
		answer := store.Answer{Command: p.order.ID, Content: p.content, Body: body}
		answers = append(answers, answer)
		answered[p.order.ID] = answer // the same order twice in one batch
		outcomes[i].receipt = receipt
	}
	if err := tx.Append(ctx, records); err != nil {
		return nil, err
	}
	return outcomes, tx.Remember(ctx, answers)
}

func again(old store.Answer, content [32]byte) outcome {
	if old.Content != content {
		return outcome{err: ErrOtherContent}
	}
	receipt, err := readReceipt(old)
	return outcome{receipt, err}
}

// decide makes the records and the texts of one order and moves the work on; on an
// error the work is as it was.
func (w *work[S, C, E]) decide(p *pending[C]) ([]journal.Record, []store.Text, Receipt, error) {
	if p.order.Refuse != nil {
		return nil, nil, Receipt{}, p.order.Refuse
	}
	l := w.stream.ledger
	meta := meet.Meta{Actor: p.order.Actor, NowUS: max(l.now().UnixMicro(), w.timeUS), Seed: l.seed(p.order.ID)}
	events, err := l.model.Decide(w.state, p.order.Command, meta)
	if err != nil {
		return nil, nil, Receipt{}, err
	}
	texts, err := w.texts(p.order, events)
	if err != nil {
		return nil, nil, Receipt{}, err
	}
	receipt := Receipt{Events: []string{}, Thing: p.order.Thing}
	records := make([]journal.Record, 0, len(events))
	head := w.head
	for _, e := range events {
		data, err := encode(e)
		if err != nil {
			return nil, nil, Receipt{}, err
		}
		r, err := journal.Seal(head, journal.Envelope{
			Stream: w.stream.name.String(), Seq: head.Seq + 1, Type: e.Type(), V: l.model.Version,
			Time: meta.NowUS, Actor: meta.Actor, Command: p.order.ID, Data: data,
		})
		if err != nil {
			return nil, nil, Receipt{}, err
		}
		head = r.Head()
		records = append(records, r)
		receipt.Events = append(receipt.Events, e.Type())
	}
	for _, e := range events {
		l.model.Evolve(w.state, e, meta.NowUS)
		w.dirty = true
	}
	w.head, w.timeUS = head, meta.NowUS
	receipt.Seq, receipt.Head = head.Seq, head.Hash.String()
	return records, texts, receipt, nil
}

// texts are those of an order, each with the people whom it is about. An order that
// changes nothing leaves none behind.
func (w *work[S, C, E]) texts(o Order[C], events []E) ([]store.Text, error) {
	if len(events) == 0 {
		return nil, nil
	}
	out := make([]store.Text, 0, len(o.Texts))
	for _, t := range o.Texts {
		about, err := w.stream.ledger.model.About(w.state, t.ID, events)
		if err != nil && len(t.About) == 0 {
			return nil, err
		}
		t.About = slices.Concat(t.About, about)
		out = append(out, t)
	}
	return out, nil
}

// damageFor is how long a damaged log is not read again, so that those who ask
// for it cost nothing. Somebody may put a sound copy in its place.
const damageFor = time.Minute

// load reads the stream from the store if that was not done yet. The caller
// holds writing.
func (s *stream[S, C, E]) load(ctx context.Context) error {
	if s.snapshot().State != nil {
		return nil
	}
	if err := s.damaged(); err != nil {
		return err
	}
	w, err := s.resume(ctx)
	if w == nil && err == nil {
		w = &work[S, C, E]{stream: s, state: s.ledger.model.New()}
		err = readAhead(ctx, s.ledger.logs, s.name, 0, w.fold)
	}
	if errors.Is(err, ErrDamaged) {
		s.ledger.log.Error("a log is damaged; benchmeet verify says more", "stream", s.name.String(), "error", err)
		s.mu.Lock()
		s.damage, s.found = err, time.Now()
		s.mu.Unlock()
	}
	if err != nil {
		return err
	}
	w.state = s.ledger.model.Clone(w.state) // others share it from here on
	w.dirty = true
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
	if !w.dirty {
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
	var w *work[S, C, E]
	err := s.ledger.logs.Read(ctx, s.name, s.snapshot().Head.Seq, func(r journal.Record) error {
		if w == nil {
			w = s.work()
		}
		return w.fold(r)
	})
	if err != nil || w == nil {
		return err
	}
	s.swap(w)
	return nil
}

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
