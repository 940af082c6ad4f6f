package rest

import (
	"context"
	"sync"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
)

// dayPlans shows and tells what is left of the day.
type dayPlans struct {
	orders
	now   func() time.Time
	plans *officialPlans
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
	return gen.GetDayPlan200JSONResponse(s.official(s.club(ctx), v)), nil
}

// LookDayPlan shows what the day would be like otherwise.
func (s dayPlans) LookDayPlan(ctx context.Context, r gen.LookDayPlanRequestObject) (gen.LookDayPlanResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	plan, err := view.LookDayPlan(v, max(s.now().UnixMicro(), v.State.TimeUS), wire.ReadSupposed(*r.Body))
	if err != nil {
		return nil, err
	}
	return gen.LookDayPlan200JSONResponse(plan), nil
}

// GetCuts shows what can be left out of the rest of the day.
func (s dayPlans) GetCuts(ctx context.Context, r gen.GetCutsRequestObject) (gen.GetCutsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	return gen.GetCuts200JSONResponse(view.Cuts(v, max(s.now().UnixMicro(), v.State.TimeUS))), nil
}

// ChooseCuts chooses what may be left out of the day.
func (s dayPlans) ChooseCuts(ctx context.Context, r gen.ChooseCutsRequestObject) (gen.ChooseCutsResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	c := wire.ReadCuts(*r.Body)
	c.OpensUS, _, _ = view.Hours(v.State.Plan)
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.ChooseCuts200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CountAdults says how many adults run the benches.
func (s dayPlans) CountAdults(ctx context.Context, r gen.CountAdultsRequestObject) (gen.CountAdultsResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadAdults(*r.Body))
	return gen.CountAdults200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RehearseDay plays the day with what usually goes wrong.
func (s dayPlans) RehearseDay(ctx context.Context, r gen.RehearseDayRequestObject) (gen.RehearseDayResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, nil)
	if err != nil {
		return nil, err
	}
	out, err := view.RehearsedDay(v, max(s.now().UnixMicro(), v.State.TimeUS))
	if err != nil {
		return nil, err
	}
	return gen.RehearseDay200JSONResponse(out), nil
}

// planKey is what an official's day plan follows from: the state, the names and the minute.
type planKey struct {
	club, meet  string
	seq, minute int64
	edition     uint64
}

// officialPlans keeps the newest day plan that officials read of each of a few meets: it
// plays the day some hundred times.
type officialPlans struct {
	mu   sync.Mutex
	kept map[planKey]gen.DayPlan
}

// mostKept is how many plans are kept; then all are forgotten.
const mostKept = 32

// official is the plan of the minute; who asks while it is made waits for it.
func (s dayPlans) official(club string, v view.MeetView) gen.DayPlan {
	now := max(s.now().Truncate(time.Minute).UnixMicro(), v.State.TimeUS)
	key := planKey{club, v.ID, v.Head.Seq, now, uint64(v.Names.Edition())}
	s.plans.mu.Lock()
	defer s.plans.mu.Unlock()
	if plan, there := s.plans.kept[key]; there {
		return plan
	}
	if len(s.plans.kept) >= mostKept {
		clear(s.plans.kept)
	}
	plan := view.OfficialDayPlan(v, now)
	s.plans.kept[key] = plan
	return plan
}

// TellTimes tells the hall the times of the plan.
func (s dayPlans) TellTimes(ctx context.Context, r gen.TellTimesRequestObject) (gen.TellTimesResponseObject, error) {
	v, err := s.meetNow(ctx, r.Meet)
	if err != nil {
		return nil, err
	}
	c := wire.ReadTelling(*r.Body)
	c.OpensUS, _, _ = view.Hours(v.State.Plan)
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.TellTimes200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// OrderHeats puts the heats that wait into an order.
func (s dayPlans) OrderHeats(ctx context.Context, r gen.OrderHeatsRequestObject) (gen.OrderHeatsResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadHeatsOrder(*r.Body))
	return gen.OrderHeats200JSONResponse{ReceiptJSONResponse: receipt}, err
}
