package rest

import (
	"context"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// seesAway says whether a caller is shown a meet that is put away. To everybody else
// it is as if there were no such meet.
func seesAway(ctx context.Context) bool { return Caller(ctx).Role == auth.Organiser }

// ListPutAway lists what was put away of a meet.
func (s meets) ListPutAway(ctx context.Context, r gen.ListPutAwayRequestObject) (gen.ListPutAwayResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.ListPutAway200JSONResponse(view.Away(v)), nil
}

// PutAway puts away what was made for a trial or by mistake.
func (s meets) PutAway(ctx context.Context, r gen.PutAwayRequestObject) (gen.PutAwayResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.PutAway{
		Division: day.DivisionID(wire.Deref(r.Body.Division)), Entry: day.EntryID(wire.Deref(r.Body.Entry)),
	})
	return gen.PutAway200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// BringBack brings back what was put away.
func (s meets) BringBack(ctx context.Context, r gen.BringBackRequestObject) (gen.BringBackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.BringBack{
		Division: day.DivisionID(wire.Deref(r.Body.Division)), Entry: day.EntryID(wire.Deref(r.Body.Entry)),
	})
	return gen.BringBack200JSONResponse{ReceiptJSONResponse: receipt}, err
}
