package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
)

// rulings are what officials ruled.
type rulings struct {
	orders
	texts texts
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
	return gen.MakeRuling200JSONResponse{ReceiptJSONResponse: receipt}, err
}
