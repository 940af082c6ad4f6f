package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
)

// carLives are what cars were made of, and how they ran.
type carLives struct{ orders }

// GetCarLife shows the life of a car.
func (s carLives) GetCarLife(ctx context.Context, r gen.GetCarLifeRequestObject) (gen.GetCarLifeResponseObject, error) {
	state, car, err := s.numbered(ctx, r.Number)
	if err != nil {
		return nil, err
	}
	return gen.GetCarLife200JSONResponse(view.CarLife(state, car)), nil
}

// numbered is the club with its car of a number.
func (s carLives) numbered(ctx context.Context, number int) (*club.State, club.Car, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, club.Car{}, err
	}
	id, there := state.Numbers.Get(number)
	if !there {
		return nil, club.Car{}, refusal.New("no-car")
	}
	return state, state.Cars.At(id), nil
}

// ChangeCar notes what a car is made of from now on.
func (s carLives) ChangeCar(ctx context.Context, r gen.ChangeCarRequestObject) (gen.ChangeCarResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, club.ChangeCar{
		Number: r.Number, Setup: wire.ReadSetup(r.Body.Setup), Refit: wire.Deref(r.Body.Refit),
	})
	return gen.ChangeCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}
