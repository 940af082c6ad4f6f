package ledger

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime/debug"
	"slices"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
)

// work is the stream as a batch changes it: the state that all share until something
// changes, and a copy from then on.
type work[S any, C any, E Fact] struct {
	stream *stream[S, C, E]
	state  *S
	copied bool // and so changed
	head   journal.Head
	timeUS int64
	common store.Common // by which versions of events are chosen
}

func (s *stream[S, C, E]) work() *work[S, C, E] {
	common := s.ledger.common()
	s.mu.Lock()
	defer s.mu.Unlock()
	return &work[S, C, E]{stream: s, state: s.state, head: s.head, timeUS: s.timeUS, common: common}
}

// own is the state to change.
func (w *work[S, C, E]) own() *S {
	if !w.copied {
		w.state, w.copied = w.stream.ledger.model.Clone(w.state), true
	}
	return w.state
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
	head, atUS, err := w.stream.ledger.model.fold(w.own(), w.head, r)
	if errors.Is(err, journal.ErrLater) {
		return laterError{w.stream.name.String(), err}
	}
	if err != nil {
		return fmt.Errorf("stream %s: %w: %w", w.stream.name, ErrDamaged, err)
	}
	w.head, w.timeUS = head, atUS
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
	if err := w.append(ctx, tx, records); err != nil {
		return nil, err
	}
	return outcomes, tx.Remember(ctx, answers)
}

// append appends records, by what is known of the servers that read them.
func (w *work[S, C, E]) append(ctx context.Context, tx store.Tx, records []journal.Record) error {
	if shared, is := tx.(store.FleetTx); is && w.common.Epoch != 0 {
		return shared.AppendAt(ctx, w.common.Epoch, records)
	}
	return tx.Append(ctx, records)
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
	meta := meet.Meta{Actor: p.order.Actor, NowUS: l.now().UnixMicro(), Seed: l.seed(p.order.ID)}
	if _, byServer := any(p.order.Command).(interface{ ByServerClock() }); !byServer {
		meta.NowUS = max(meta.NowUS, w.timeUS)
	}
	events, err := l.model.Decide(w.state, p.order.Command, meta)
	if err != nil {
		return nil, nil, Receipt{}, err
	}
	texts, err := w.texts(p.order, events)
	if err != nil {
		return nil, nil, Receipt{}, err
	}
	written, err := w.written(events, meta.NowUS)
	if err != nil {
		return nil, nil, Receipt{}, err
	}
	receipt := Receipt{Events: []string{}, Thing: p.order.Thing}
	records := make([]journal.Record, 0, len(events))
	head := w.head
	for i, e := range written {
		events[i] = e.event
		data, err := encode(e.event)
		if err != nil {
			return nil, nil, Receipt{}, err
		}
		r, err := journal.Seal(head, journal.Envelope{
			Stream: w.stream.name.String(), Seq: head.Seq + 1, Type: e.event.Type(), V: e.version,
			Time: meta.NowUS, Actor: meta.Actor, Command: p.order.ID, Data: data,
		})
		if err != nil {
			return nil, nil, Receipt{}, err
		}
		head = r.Head()
		records = append(records, r)
		receipt.Events = append(receipt.Events, e.event.Type())
	}
	for _, e := range events {
		l.model.Evolve(w.own(), e, meta.NowUS)
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
