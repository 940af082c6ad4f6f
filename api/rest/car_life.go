package rest

import (
	"context"
	"fmt"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// carLives are what cars were made of, and how they ran.
type carLives struct {
	orders
	intake *intake.Intake
}

// GetCarLife shows the life of a car.
func (s carLives) GetCarLife(ctx context.Context, r gen.GetCarLifeRequestObject) (gen.GetCarLifeResponseObject, error) {
	state, car, err := s.numbered(ctx, r.Number)
	if err != nil {
		return nil, err
	}
	return gen.GetCarLife200JSONResponse(view.CarLife(state, car)), nil
}

// numbered is the club with its car of a number.
func (s reads) numbered(ctx context.Context, number int) (*club.State, club.Car, error) {
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
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, wire.ReadCarChange(r.Number, *r.Body))
	if err == nil && len(receipt.Events) > 0 {
		err = s.lapse(ctx, r.Number, r.Params.IdempotencyKey)
	}
	return gen.ChangeCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// lapse has a car that was changed inspected again in the meets that are on: what passed
// is not what will race. A retry of the order does it again, which changes nothing more.
func (s carLives) lapse(ctx context.Context, number int, key gen.OrderKey) error {
	_, car, err := s.numbered(ctx, number)
	if err != nil {
		return err
	}
	meets, err := s.intake.MeetsOn(ctx, s.club(ctx))
	if err != nil {
		return err
	}
	for _, on := range meets {
		for _, e := range on.State.Entries {
			if e.Car != car.ID || !on.State.Inspections[e.ID].Passed {
				continue
			}
			_, err := s.meets.Do(ctx, store.MeetStream(s.club(ctx), on.ID), ledger.Order[meet.Command]{
				ID: fmt.Sprintf("lapse-%s-%s", key, e.ID), Content: content(ctx), Actor: Caller(ctx).Actor,
				Command: meet.LapseInspection{Entry: e.ID, Reason: day.Reason{Code: day.ReasonCarChanged}},
			})
			if no, is := refusal.As(err); is && no.Code == "inspect-no-pass" {
				continue // it lapsed with another entry of the car
			}
			if err != nil {
				return err
			}
		}
	}
	return nil
}
