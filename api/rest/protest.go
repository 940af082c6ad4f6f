package rest

import (
	"context"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// protests are lodged and ruled on.
type protests struct {
	orders
	texts texts
}

// ListProtests lists all protests.
func (s protests) ListProtests(ctx context.Context, r gen.ListProtestsRequestObject) (gen.ListProtestsResponseObject, error) {
	v, texts, err := s.texts.of(ctx, r.Meet, r.Params.AtLeast, lodged)
	if err != nil {
		return nil, err
	}
	return gen.ListProtests200JSONResponse(v.Protests(texts)), nil
}

// LodgeProtest records a protest.
func (s protests) LodgeProtest(ctx context.Context, r gen.LodgeProtestRequestObject) (gen.LodgeProtestResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey, thing: wire.OrElse(b.Id, madeID("protest-", r.Params.IdempotencyKey))}
	c := wire.ReadProtest(*b, reason(&o, b.Reason))
	c.ID = day.ProtestID(o.thing)
	if caller := Caller(ctx); caller.Role == auth.Volunteer {
		for _, bench := range caller.Benches {
			c.At = append(c.At, day.BenchID(bench))
		}
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.LodgeProtest201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RuleProtest decides a protest.
func (s protests) RuleProtest(ctx context.Context, r gen.RuleProtestRequestObject) (gen.RuleProtestResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.RuleProtest{ID: day.ProtestID(r.Protest), Upheld: r.Body.Upheld, Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.RuleProtest200JSONResponse{ReceiptJSONResponse: receipt}, err
}
