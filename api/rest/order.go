package rest

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// orders gives commands. Every handler that changes something stands on it.
type orders struct {
	reads
	namesChanged func(club string)
	kept         store.Logs
}

// order is what all orders of a request have in common.
type order struct {
	key   gen.OrderKey
	thing string // id of what is made, for the receipt
	// people and texts are written with the events.
	people []store.Person
	texts  []store.Text
	// refuse is why the order cannot be carried out now, found before the stream
	// was asked: a retry of one that was carried out still gets its receipt.
	refuse error
}

// withdrawHeader takes an order back.
const withdrawHeader = "Order-Withdraw"

// withdraws says whether the request takes its order back.
func withdraws(ctx context.Context) bool { return askedOf(ctx).withdraws }

// meetOrder gives a command to a meet.
func (s orders) meetOrder(ctx context.Context, id string, o order, c meet.Command) (gen.ReceiptJSONResponse, error) {
	receipt, err := s.meets.Do(ctx, store.MeetStream(s.club(ctx), id), ledger.Order[meet.Command]{
		ID: o.key.String(), Content: content(ctx), Actor: Caller(ctx).Actor, Command: c,
		People: o.people, Texts: o.texts, Thing: o.thing, Refuse: o.refuse, Withdraw: withdraws(ctx),
	})
	return s.receipt(ctx, o, receipt, err)
}

// clubOrder gives a command to the caller's club.
func (s orders) clubOrder(ctx context.Context, o order, c club.Command) (gen.ReceiptJSONResponse, error) {
	receipt, err := s.clubs.Do(ctx, store.ClubStream(s.club(ctx)), ledger.Order[club.Command]{
		ID: o.key.String(), Content: content(ctx), Actor: Caller(ctx).Actor, Command: c,
		People: o.people, Texts: o.texts, Thing: o.thing, Refuse: o.refuse, Withdraw: withdraws(ctx),
	})
	return s.receipt(ctx, o, receipt, err)
}

func (s orders) receipt(ctx context.Context, o order, r ledger.Receipt, err error) (gen.ReceiptJSONResponse, error) {
	if errors.Is(err, store.ErrErased) && len(o.texts) > 0 {
		return gen.ReceiptJSONResponse{}, refusal.New("text-erased")
	}
	if err != nil {
		return gen.ReceiptJSONResponse{}, err
	}
	if len(o.people) > 0 {
		s.forgetNames(ctx)
	}
	out := gen.ReceiptJSONResponse{Seq: r.Seq, Head: r.Head, Events: r.Events, Order: o.key}
	if r.Again {
		answerHeader(ctx).Set("Order-Again", "true")
	}
	if r.Thing != "" {
		out.Id = &r.Thing
	}
	return out, nil
}

// content is what makes two orders equal: operation, place and body.
func content(ctx context.Context) []byte {
	a := askedOf(ctx)
	return slices.Concat([]byte(a.line), []byte{'\n'}, a.body)
}

// madeID is an id that follows from the order's id, so that a retry makes the
// same thing.
func madeID(prefix string, key gen.OrderKey) string {
	sum := sha256.Sum256([]byte(prefix + key.String()))
	return prefix + hex.EncodeToString(sum[:6])
}

// madeRowID is the id of a thing that one row of an order makes.
func madeRowID(prefix string, key gen.OrderKey, row int) string {
	sum := sha256.Sum256(fmt.Appendf(nil, "%s%s %d", prefix, key, row))
	return prefix + hex.EncodeToString(sum[:6])
}

// reason splits a reason into what the log keeps and the text that stays
// outside. Whom the text is about follows from the order.
func reason(o *order, r gen.Reason) day.Reason {
	out := day.Reason{Code: day.ReasonCode(r.Code)}
	if r.Text == nil || *r.Text == "" {
		return out
	}
	salt := make([]byte, 16)
	rand.Read(salt) // never fails
	sum := sha256.Sum256(append(append([]byte{}, salt...), *r.Text...))
	out.Text, out.TextHash = madeID("t-", o.key), hex.EncodeToString(sum[:])
	o.texts = append(o.texts, store.Text{ID: out.Text, Salt: salt, Text: *r.Text})
	return out
}

// forgetNames makes reads and screens see the people as they are now.
func (s orders) forgetNames(ctx context.Context) {
	s.names.Forget(s.club(ctx))
	s.namesChanged(s.club(ctx))
}
