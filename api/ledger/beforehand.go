package ledger

import (
	"context"
	"encoding/json"
	"errors"

	"benchmeet/api/store"
)

// beforehand decides a batch on the state that is here and has the store take all of it
// in one go, if nothing was written meanwhile: one trip to a database elsewhere in place
// of several, and none where rules refuse all. It says whether that was done. Where it was
// not, nothing is kept and nothing has changed, and the batch has to be decided with the
// store at hand: an order that brings people or texts, one that was given before, and one
// that a rule refuses where another process may have carried it out.
//
// The caller holds writing.
func (s *stream[S, C, E]) beforehand(ctx context.Context, batch []*pending[C]) (outcomes []outcome, done bool, err error) {
	to, can := s.ledger.logs.(store.Batcher)
	if !can || !plainOrders(batch) {
		return nil, false, nil
	}
	w := s.work()
	made := store.Batch{After: w.head, Epoch: w.common.Epoch, Alone: w.common.Alone}
	outcomes = w.decidePlain(batch, &made)
	if outcomes == nil {
		return nil, false, nil
	}
	if before, err := s.mayBeRetries(ctx, batch, outcomes); before || err != nil {
		return nil, false, err
	}
	if len(made.Answers) == 0 {
		return outcomes, true, nil
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

// mayBeRetries says whether one of the orders that rules refuse may have been carried out
// before: a retry is answered as the first time, though the rule refuses it now. Where
// only this process writes, the store knows all that were.
func (s *stream[S, C, E]) mayBeRetries(ctx context.Context, batch []*pending[C], outcomes []outcome) (bool, error) {
	var refused []string
	for i, p := range batch {
		if outcomes[i].err != nil {
			refused = append(refused, p.order.ID)
		}
	}
	if len(refused) == 0 {
		return false, nil
	}
	of, can := s.ledger.logs.(store.Rememberer)
	if !can || !s.ledger.alone {
		return true, nil
	}
	answered, err := of.Answers(ctx, s.name, refused)
	return len(answered) > 0, err
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

// decidePlain makes the records and answers of orders, and what is refused; nil where one
// meets a fault of the program.
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
			outcomes = append(outcomes, outcome{err: err})
			continue
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
