package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// cars are the club's cars.
type cars struct{ orders }

// ListCars lists the cars of the club.
func (s cars) ListCars(ctx context.Context, _ gen.ListCarsRequestObject) (gen.ListCarsResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListCars200JSONResponse(view.Cars(state)), nil
}

// PutCar registers a car.
func (s cars) PutCar(ctx context.Context, r gen.PutCarRequestObject) (gen.PutCarResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey, thing: r.Car}, club.RegisterCar{Car: wire.ReadCar(r.Car, *r.Body)})
	return gen.PutCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// raceWith refuses to race with any of these cars that compares benches. What a car is
// stands in the club's log, so the meet is not asked.
func (s reads) raceWith(ctx context.Context, cars ...day.CarID) error {
	state, err := s.clubNow(ctx)
	if err != nil {
		return err
	}
	for _, car := range cars {
		if err := state.RacesWith(car); err != nil {
			return err
		}
	}
	return nil
}
