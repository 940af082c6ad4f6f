package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// MergeDivisions has divisions race together that are ranked apart.
func (s divisions) MergeDivisions(ctx context.Context, r gen.MergeDivisionsRequestObject) (gen.MergeDivisionsResponseObject, error) {
	c := meet.MergeDivisions{Into: day.DivisionID(r.Division)}
	for _, id := range r.Body.From {
		c.From = append(c.From, day.DivisionID(id))
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.MergeDivisions200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// SplitDivision takes divisions apart again.
func (s divisions) SplitDivision(ctx context.Context, r gen.SplitDivisionRequestObject) (gen.SplitDivisionResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.SplitDivision{Division: day.DivisionID(r.Division)})
	return gen.SplitDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}
