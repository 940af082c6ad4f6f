package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/naming"
	"benchmeet/domain/refusal"
)

// practice arms benches for practice and shows what came of it.
type practice struct {
	orders
	intake *intake.Intake
}

// ArmPractice asks a bench for a practice run.
func (s practice) ArmPractice(ctx context.Context, r gen.ArmPracticeRequestObject) (gen.ArmPracticeResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	found, err := s.intake.Assignment(ctx, s.club(ctx), day.BenchID(r.Bench))
	if err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	if found.Meet != "" {
		o.refuse = naming.Refusal(found.State, refusal.New("bench-busy", "bench", found.Order.Bench, "heat", found.Order.Heat))
	}
	receipt, err := s.clubOrder(ctx, o, wire.ReadArming(r.Bench, *r.Body))
	return gen.ArmPractice200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ListPractice lists the newest practice runs.
func (s practice) ListPractice(ctx context.Context, r gen.ListPracticeRequestObject) (gen.ListPracticeResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	board := view.Practice(state, day.CarID(wire.Deref(r.Params.Car)), wire.OrElse(r.Params.Limit, 50))
	return gen.ListPractice200JSONResponse(board), nil
}
