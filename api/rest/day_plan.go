package rest

import (
	"context"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
)

// dayPlans shows and tells what is left of the day.
type dayPlans struct {
	orders
	now func() time.Time
}

// GetDayPlan shows the day plan: to officials of this moment, to everybody else as the live
// feed has it.
func (s dayPlans) GetDayPlan(ctx context.Context, r gen.GetDayPlanRequestObject) (gen.GetDayPlanResponseObject, error) {
	if !Caller(ctx).May(auth.Organiser, auth.Official, auth.Referee) {
		return s.show(ctx, r.Meet, r.Params.AtLeast, "day-plan")
	}
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetDayPlan200JSONResponse(v.OfficialDayPlan(max(s.now().UnixMicro(), v.State.TimeUS))), nil
}

// TellTimes tells the hall the times of the plan.
func (s dayPlans) TellTimes(ctx context.Context, r gen.TellTimesRequestObject) (gen.TellTimesResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	c := wire.ReadTelling(*r.Body)
	c.OpensUS, _, _ = view.Hours(v.State.Plan)
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.TellTimes200JSONResponse{ReceiptJSONResponse: receipt}, err
}
