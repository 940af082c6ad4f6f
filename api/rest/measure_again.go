package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// remeasuring measures runs of a bench again.
type remeasuring struct {
	orders
	intake *intake.Intake
}

// LookMeasuredAgain says what measuring a bench's runs again would change.
func (s remeasuring) LookMeasuredAgain(ctx context.Context, r gen.LookMeasuredAgainRequestObject) (gen.LookMeasuredAgainResponseObject, error) {
	v, again, err := s.again(ctx, r.Meet, r.Bench, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.LookMeasuredAgain200JSONResponse(view.MeasuredAgain(v, again)), nil
}

// MeasureAgain rules that they are measured again.
func (s remeasuring) MeasureAgain(ctx context.Context, r gen.MeasureAgainRequestObject) (gen.MeasureAgainResponseObject, error) {
	_, again, err := s.again(ctx, r.Meet, r.Bench, nil)
	if err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	c := meet.MeasureAgain{Bench: day.BenchID(r.Bench), Runs: again, Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.MeasureAgain200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// again measures all runs of a bench of a meet again.
func (s remeasuring) again(ctx context.Context, meetID, bench string, atLeast *int64) (view.MeetView, []meet.Remeasured, error) {
	v, err := s.meetView(ctx, meetID, atLeast)
	if err != nil {
		return v, nil, err
	}
	if _, there := v.State.Benches[day.BenchID(bench)]; !there {
		return v, nil, refusal.New("no-bench", "bench", bench)
	}
	again, err := s.intake.Again(ctx, s.club(ctx), v.State, day.BenchID(bench))
	return v, again, err
}
