package ledger

import (
	"context"
	"encoding/json"
	"errors"

	"benchmeet/api/store"
)

// beforehand decides a batch on the state that is here and has the store take all of it
// in one go, if nothing was written meanwhile: one trip to the database in place of
// several. It says whether that was done. Where it was not, nothing is kept and nothing
// has changed, and the batch has to be decided with the store at hand: an order that
// brings people or texts, one that was given before, and one that a rule refuses, for
// it may have been carried out by another process.
//
// The caller holds writing.
func (s *stream[S, C, E]) beforehand(ctx context.Context, batch []*pending[C]) (outcomes []outcome, done bool, err error) {
	to, can := s.ledger.logs.(store.Batcher)
	if !can || !plainOrders(batch) {
		return nil, false, nil
	}
	w := s.work()
	made := store.Batch{After: w.head}
	if outcomes = w.decidePlain(batch, &made); outcomes == nil {
		return nil, false, nil
	}
	err = to.WriteBatch(ctx, s.name, made)
	switch {
	case errors.Is(err, store.ErrOvertaken):
		return nil, false, nil
	case err != nil:
		return nil, false, err
	}
	s.swap(w)
	return outcomes, true, nil
}

// plainOrders says whether all orders are commands alone, each given once.
func plainOrders[C any](batch []*pending[C]) bool {
	ids := make(map[string]bool, len(batch))
	for _, p := range batch {
		o := &p.order
		if o.Withdraw || o.Refuse != nil || len(o.People)+len(o.Texts) > 0 || ids[o.ID] {
			return false
		}
		ids[o.ID] = true
	}
	return true
}

// decidePlain makes the records and answers of orders; nil where one is not carried out,
// or meets a fault of the program.
func (w *work[S, C, E]) decidePlain(batch []*pending[C], made *store.Batch) (outcomes []outcome) {
	defer func() {
		if recover() != nil { // it is met again, and told, where its order fails alone
			outcomes = nil
		}
	}()
	outcomes = make([]outcome, 0, len(batch))
	for _, p := range batch {
		records, _, receipt, err := w.decide(p)
		if err != nil {
			return nil
		}
		body, err := json.Marshal(receipt)
		if err != nil {
			return nil
		}
		made.Records = append(made.Records, records...)
		made.Answers = append(made.Answers, store.Answer{Command: p.order.ID, Content: p.content, Body: body})
		outcomes = append(outcomes, outcome{receipt: receipt})
	}
	return outcomes
}
