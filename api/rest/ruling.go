package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// withTexts reads a meet and the free texts that some of its reasons name.
func (s *Server) withTexts(ctx context.Context, meet string, atLeast *int64, reasons func(*day.State) []day.Reason) (view.MeetView, view.Texts, error) {
	v, err := s.meetView(ctx, meet, atLeast)
	if err != nil {
		return v, nil, err
	}
	var ids []string
	for _, why := range reasons(v.State) {
		if why.Text != "" {
			ids = append(ids, why.Text)
		}
	}
	found, err := s.Store.Texts(ctx, s.club(ctx), ids)
	if err != nil {
		return v, nil, err
	}
	byID := make(map[string]string, len(found))
	for _, t := range found {
		byID[t.ID] = t.Text
	}
	return v, func(id string) string { return byID[id] }, nil
}

func ruled(s *day.State) []day.Reason {
	var out []day.Reason
	for _, r := range s.Rulings {
		out = append(out, r.Reason)
	}
	return out
}

func lodged(s *day.State) []day.Reason {
	var out []day.Reason
	for _, p := range s.Protests {
		out = append(out, p.Reason)
	}
	return out
}

// ListRulings lists all rulings.
func (s *Server) ListRulings(ctx context.Context, r gen.ListRulingsRequestObject) (gen.ListRulingsResponseObject, error) {
	v, texts, err := s.withTexts(ctx, r.Meet, r.Params.AtLeast, ruled)
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
	v, texts, err := s.withTexts(ctx, r.Meet, r.Params.AtLeast, lodged)
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
