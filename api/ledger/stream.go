package ledger

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
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
	orders chan *pending[C]
	// started says whether the writer runs; guarded by the ledger's mutex.
	started bool

	// writing is held while the state is being replaced: by the writer, and by
	// whoever catches up.
	writing sync.Mutex

	mu       sync.Mutex // guards what follows
	state    *S         // nil until loaded
	head     journal.Head
	timeUS   int64
	watchers map[chan struct{}]struct{}
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
	return &stream[S, C, E]{
		ledger:   l,
		name:     name,
		orders:   make(chan *pending[C], mostInBatch),
		watchers: map[chan struct{}]struct{}{},
	}
}

var errClosed = errors.New("the server is shutting down: send the order again in a moment")

func (s *stream[S, C, E]) do(ctx context.Context, o Order[C]) (Receipt, error) {
	p := &pending[C]{order: o, content: keyed(s.ledger.key, o.Content), answer: make(chan outcome, 1)}
	select {
	case s.orders <- p:
	case <-ctx.Done():
		return Receipt{}, ctx.Err()
	case <-s.ledger.ctx.Done():
		return Receipt{}, errClosed
	}
	select {
	case out := <-p.answer:
		return out.receipt, out.err
	case <-ctx.Done():
		return Receipt{}, ctx.Err() // it may still be carried out; a retry gets its answer
	case <-s.ledger.ctx.Done():
		select {
		case out := <-p.answer:
			return out.receipt, out.err
		default:
			return Receipt{}, errClosed
		}
	}
}

// write is the stream's only writer in this process.
func (s *stream[S, C, E]) write() {
	defer s.ledger.done.Done()
	for {
		select {
		case <-s.ledger.ctx.Done():
			return
		case first := <-s.orders:
			s.carryOut(s.gather(first))
		}
	}
}

// gather takes the orders that have come in meanwhile.
func (s *stream[S, C, E]) gather(first *pending[C]) []*pending[C] {
	batch := []*pending[C]{first}
	for len(batch) < mostInBatch {
		select {
		case p := <-s.orders:
			batch = append(batch, p)
		default:
			return batch
		}
	}
	return batch
}

func (s *stream[S, C, E]) carryOut(batch []*pending[C]) {
	outcomes, err := s.batch(batch)
	if err != nil && len(batch) > 1 {
		// Nothing was kept. One by one, only the cause fails.
		for _, p := range batch {
			s.carryOut([]*pending[C]{p})
		}
		return
	}
	for i, p := range batch {
		if err != nil {
			p.answer <- outcome{err: err}
			continue
		}
		p.answer <- outcomes[i]
	}
}

// batch decides orders in one transaction and swaps the state after the commit.
func (s *stream[S, C, E]) batch(batch []*pending[C]) ([]outcome, error) {
	s.writing.Lock()
	defer s.writing.Unlock()
	ctx := context.WithoutCancel(s.ledger.ctx) // a batch that began is finished
	if err := s.load(ctx); err != nil {
		return nil, err
	}
	w := s.work()
	var outcomes []outcome
	err := s.ledger.logs.Write(ctx, s.name, func(tx store.Tx) error {
		if err := tx.Read(ctx, w.head.Seq, w.fold); err != nil {
			return err
		}
		var err error
		outcomes, err = w.decideAll(ctx, tx, batch)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.swap(w)
	return outcomes, nil
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

// fold takes a stored record in.
func (w *work[S, C, E]) fold(r journal.Record) error {
	head, err := w.stream.ledger.model.Fold(w.state, w.head, r)
	if err != nil {
		return fmt.Errorf("stream %s: %w", w.stream.name, err)
	}
	e, err := r.Open()
	if err != nil {
		return err
	}
	w.head, w.timeUS, w.dirty = head, e.Time, true
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
		made, receipt, err := w.decide(p)
		if err != nil {
			outcomes[i].err = err // a refusal, or an event that cannot be written: this order only
			continue
		}
		for _, person := range p.order.People {
			if err := tx.PutPerson(ctx, person); err != nil {
				return nil, err
			}
		}
		for _, text := range p.order.Texts {
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

// decide makes the records of one order and moves the work on; on an error the
// work is as it was.
func (w *work[S, C, E]) decide(p *pending[C]) ([]journal.Record, Receipt, error) {
	l := w.stream.ledger
	meta := meet.Meta{Actor: p.order.Actor, NowUS: max(l.now().UnixMicro(), w.timeUS), Seed: l.seed(p.order.ID)}
	events, err := l.model.Decide(w.state, p.order.Command, meta)
	if err != nil {
		return nil, Receipt{}, err
	}
	receipt := Receipt{Events: []string{}, Thing: p.order.Thing}
	records := make([]journal.Record, 0, len(events))
	head := w.head
	for _, e := range events {
		data, err := encode(e)
		if err != nil {
			return nil, Receipt{}, err
		}
		r, err := journal.Seal(head, journal.Envelope{
			Stream: w.stream.name.String(), Seq: head.Seq + 1, Type: e.Type(), V: l.model.Version,
			Time: meta.NowUS, Actor: meta.Actor, Command: p.order.ID, Data: data,
		})
		if err != nil {
			return nil, Receipt{}, err
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
	return records, receipt, nil
}

// load reads the stream from the store if that was not done yet. The caller
// holds writing.
func (s *stream[S, C, E]) load(ctx context.Context) error {
	s.mu.Lock()
	loaded := s.state != nil
	s.mu.Unlock()
	if loaded {
		return nil
	}
	w := &work[S, C, E]{stream: s, state: s.ledger.model.New()}
	if err := s.ledger.logs.Read(ctx, s.name, 0, w.fold); err != nil {
		return err
	}
	w.dirty = true
	s.swap(w)
	return nil
}

// swap makes the work the stream's state and tells the watchers.
func (s *stream[S, C, E]) swap(w *work[S, C, E]) {
	if !w.dirty {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.state, s.head, s.timeUS = w.state, w.head, w.timeUS
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
	if err := s.load(ctx); err != nil {
		return err
	}
	w := s.work()
	if err := s.ledger.logs.Read(ctx, s.name, w.head.Seq, w.fold); err != nil {
		return err
	}
	s.swap(w)
	return nil
}

// waitStep is how long a reader that is ahead of the store waits between looks.
const waitStep = 20 * time.Millisecond

func (s *stream[S, C, E]) at(ctx context.Context, atLeast int64) (Snapshot[S], error) {
	for {
		s.mu.Lock()
		snapshot := Snapshot[S]{s.state, s.head}
		s.mu.Unlock()
		if snapshot.State != nil && snapshot.Head.Seq >= atLeast {
			return snapshot, nil
		}
		if err := s.catchUp(ctx); err != nil {
			return Snapshot[S]{}, err
		}
		s.mu.Lock()
		snapshot = Snapshot[S]{s.state, s.head}
		s.mu.Unlock()
		if snapshot.Head.Seq >= atLeast {
			return snapshot, nil
		}
		select {
		case <-ctx.Done():
			return Snapshot[S]{}, ctx.Err()
		case <-time.After(waitStep):
		}
	}
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

func (s *stream[S, C, E]) watched() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.watchers) > 0
}
