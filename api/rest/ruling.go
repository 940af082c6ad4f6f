package rest

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
)

// rulings are what officials ruled.
type rulings struct {
	orders
	texts  texts
	tokens auth.Tokens
}

// ListRulings lists all rulings.
func (s rulings) ListRulings(ctx context.Context, r gen.ListRulingsRequestObject) (gen.ListRulingsResponseObject, error) {
	v, texts, err := s.texts.of(ctx, r.Meet, r.Params.AtLeast, ruled)
	if err != nil {
		return nil, err
	}
	return gen.ListRulings200JSONResponse(v.Rulings(texts)), nil
}

// MakeRuling rules.
func (s rulings) MakeRuling(ctx context.Context, r gen.MakeRulingRequestObject) (gen.MakeRulingResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey}
	why := reason(&o, b.Reason)
	c, err := wire.ReadRuling(*b, why, wire.Deref(r.Params.Sure))
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	if _, sets := c.(meet.SetClock); sets && err == nil {
		err = s.setKeysBack(ctx, r.Meet, receipt.Seq)
	}
	return gen.MakeRuling200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// errRead ends the reading of a log behind the record that was looked for.
var errRead = errors.New("read")

// setKeysBack has the ruling that set the day's times right, at a position of the meet's
// log, hold for the keys that were given by the wrong clock.
func (s rulings) setKeysBack(ctx context.Context, meetID string, seq int64) error {
	var set day.ClockSet
	err := s.kept.Read(ctx, store.MeetStream(s.club(ctx), meetID), seq-1, func(r journal.Record) error {
		e, err := r.Open()
		if err == nil && e.Type == set.Type() {
			err = json.Unmarshal(e.Data, &set)
		}
		if err == nil {
			err = errRead
		}
		return err
	})
	if err != nil && !errors.Is(err, errRead) {
		return err
	}
	return s.tokens.SetBack(ctx, s.club(ctx), time.Duration(set.BackUS)*time.Microsecond)
}
