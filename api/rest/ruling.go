package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// texts finds the free texts of the club.
func (s *Server) texts(ctx context.Context) (view.Texts, error) {
	all, err := s.Store.AllTexts(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	byID := make(map[string]string, len(all))
	for _, t := range all {
		byID[t.ID] = t.Text
	}
	return func(id string) string { return byID[id] }, nil
}

// ListRulings lists all rulings.
func (s *Server) ListRulings(ctx context.Context, r gen.ListRulingsRequestObject) (gen.ListRulingsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	texts, err := s.texts(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListRulings200JSONResponse(v.Rulings(texts)), nil
}

// MakeRuling rules.
func (s *Server) MakeRuling(ctx context.Context, r gen.MakeRulingRequestObject) (gen.MakeRulingResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey}
	why := reason(&o, b.Reason)
	c, err := wire.ReadRuling(*b, why)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.MakeRuling200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ListProtests lists all protests.
func (s *Server) ListProtests(ctx context.Context, r gen.ListProtestsRequestObject) (gen.ListProtestsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	texts, err := s.texts(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListProtests200JSONResponse(v.Protests(texts)), nil
}

// LodgeProtest records a protest.
func (s *Server) LodgeProtest(ctx context.Context, r gen.LodgeProtestRequestObject) (gen.LodgeProtestResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey, thing: wire.OrElse(b.Id, madeID("protest-", r.Params.IdempotencyKey))}
	c := wire.ReadProtest(*b, reason(&o, b.Reason))
	c.ID = day.ProtestID(o.thing)
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.LodgeProtest201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RuleProtest decides a protest.
func (s *Server) RuleProtest(ctx context.Context, r gen.RuleProtestRequestObject) (gen.RuleProtestResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.RuleProtest{ID: day.ProtestID(r.Protest), Upheld: r.Body.Upheld, Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.RuleProtest200JSONResponse{ReceiptJSONResponse: receipt}, err
}
