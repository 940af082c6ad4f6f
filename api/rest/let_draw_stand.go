package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// LetDrawStand lets an outdated draw stand.
func (s *Server) LetDrawStand(ctx context.Context, r gen.LetDrawStandRequestObject) (gen.LetDrawStandResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.LetDrawStand{Division: day.DivisionID(r.Division), Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.LetDrawStand200JSONResponse{ReceiptJSONResponse: receipt}, err
}
