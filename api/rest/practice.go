package rest

import (
	"context"
	"net/http"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// ArmPractice asks a bench for a practice run.
func (s *Server) ArmPractice(ctx context.Context, r gen.ArmPracticeRequestObject) (gen.ArmPracticeResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	found, err := s.Intake.Order(ctx, s.club(ctx), day.BenchID(r.Bench))
	if err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	if found.Meet != "" {
		o.refuse = bad(http.StatusConflict, "bench-busy", "bench", r.Bench, "heat", found.Order.Heat)
	}
	receipt, err := s.clubOrder(ctx, o, wire.ReadArming(r.Bench, *r.Body))
	return gen.ArmPractice200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ListPractice lists the newest practice runs.
func (s *Server) ListPractice(ctx context.Context, r gen.ListPracticeRequestObject) (gen.ListPracticeResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	board := view.Practice(state, day.CarID(wire.Deref(r.Params.Car)), wire.OrElse(r.Params.Limit, 50))
	return gen.ListPractice200JSONResponse(board), nil
}

// ListCars lists the cars of the club.
func (s *Server) ListCars(ctx context.Context, _ gen.ListCarsRequestObject) (gen.ListCarsResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListCars200JSONResponse(view.Cars(state)), nil
}

// PutCar registers a car.
func (s *Server) PutCar(ctx context.Context, r gen.PutCarRequestObject) (gen.PutCarResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey, thing: r.Car}, club.RegisterCar{Car: wire.ReadCar(r.Car, *r.Body)})
	return gen.PutCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}
