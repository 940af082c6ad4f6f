package rest

import (
	"context"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// heats calls heats and lets them race.
type heats struct{ orders }

// ListHeats lists all heats.
func (s heats) ListHeats(ctx context.Context, r gen.ListHeatsRequestObject) (gen.ListHeatsResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "heats")
}

// CallHeat calls cars to benches.
func (s heats) CallHeat(ctx context.Context, r gen.CallHeatRequestObject) (gen.CallHeatResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	var cars []day.CarID
	for _, lane := range v.State.Heats[day.HeatID(r.Heat)].Lanes {
		cars = append(cars, v.State.Entries[lane.Entry].Car)
	}
	o := order{key: r.Params.IdempotencyKey, refuse: s.raceWith(ctx, cars...)}
	c := wire.ReadCall(r.Heat, *r.Body)
	c.Sure = wire.Deref(r.Params.Sure)
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.CallHeat200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// OrderHeat moves a heat in the order of the board, or holds it.
func (s heats) OrderHeat(ctx context.Context, r gen.OrderHeatRequestObject) (gen.OrderHeatResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadHeatOrder(r.Heat, *r.Body))
	return gen.OrderHeat200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CallOff takes a call back.
func (s heats) CallOff(ctx context.Context, r gen.CallOffRequestObject) (gen.CallOffResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.CallOff{
		Heat: day.HeatID(r.Heat), Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)},
	})
	return gen.CallOff200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// MoveLane sends a called car to another bench.
func (s heats) MoveLane(ctx context.Context, r gen.MoveLaneRequestObject) (gen.MoveLaneResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadMove(r.Heat, *r.Body))
	return gen.MoveLane200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// LeaveLane lets the others race without a car whose bench is out of service.
func (s heats) LeaveLane(ctx context.Context, r gen.LeaveLaneRequestObject) (gen.LeaveLaneResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadLeave(r.Heat, *r.Body))
	return gen.LeaveLane200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ConfirmReady confirms at a bench that the right car stands there.
func (s heats) ConfirmReady(ctx context.Context, r gen.ConfirmReadyRequestObject) (gen.ConfirmReadyResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Body.Bench); err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadReady(r.Heat, *r.Body))
	return gen.ConfirmReady200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// TakeReadyBack takes back what a bench confirmed, before the start.
func (s heats) TakeReadyBack(ctx context.Context, r gen.TakeReadyBackRequestObject) (gen.TakeReadyBackResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Body.Bench); err != nil {
		return nil, err
	}
	c := meet.TakeReadyBack{Heat: day.HeatID(r.Heat), Bench: day.BenchID(r.Body.Bench)}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.TakeReadyBack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// StartHeat lets the cars go.
func (s heats) StartHeat(ctx context.Context, r gen.StartHeatRequestObject) (gen.StartHeatResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.StartHeat{Heat: day.HeatID(r.Heat)})
	return gen.StartHeat200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RecordHandCount takes a counted distance; a volunteer's only at the own bench.
func (s heats) RecordHandCount(ctx context.Context, r gen.RecordHandCountRequestObject) (gen.RecordHandCountResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	if err := laneAllowed(ctx, v, day.HeatID(r.Heat), r.Body.Entry); err != nil {
		return nil, err
	}
	c := wire.ReadHandCount(r.Heat, *r.Body)
	if c.Sure = wire.Deref(r.Params.Sure); c.Sure && Caller(ctx).Role == auth.Volunteer {
		return nil, refusal.New("not-allowed", "role", auth.Volunteer)
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.RecordHandCount200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// AskRerun asks for a re-run; a volunteer only for the own bench.
func (s heats) AskRerun(ctx context.Context, r gen.AskRerunRequestObject) (gen.AskRerunResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	if err := laneAllowed(ctx, v, day.HeatID(r.Heat), r.Body.Entry); err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	entry := day.EntryID(r.Body.Entry)
	c := meet.AskRerun{Heat: day.HeatID(r.Heat), Entry: entry, Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.AskRerun200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// laneAllowed refuses callers who may not act for the bench of an entry's lane.
func laneAllowed(ctx context.Context, v view.MeetView, heat day.HeatID, entry string) error {
	for _, l := range v.State.Heats[heat].Lanes {
		if string(l.Entry) == entry {
			return benchAllowed(Caller(ctx), string(l.Bench))
		}
	}
	return nil // the domain says that the entry is not in the heat
}
