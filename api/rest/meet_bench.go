package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// meetBenches are the benches that a meet runs with.
type meetBenches struct{ orders }

// AddMeetBench copies a bench of the club into the meet.
func (s meetBenches) AddMeetBench(ctx context.Context, r gen.AddMeetBenchRequestObject) (gen.AddMeetBenchResponseObject, error) {
	state, err := s.clubNow(ctx)
	if err != nil {
		return nil, err
	}
	b, there := state.Benches[day.BenchID(r.Bench)]
	if !there {
		return nil, refusal.New("no-bench", "bench", r.Bench)
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.AddBench{Bench: b.Bench})
	return gen.AddMeetBench200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// SetBenchService takes a bench out of service or puts it back.
func (s meetBenches) SetBenchService(ctx context.Context, r gen.SetBenchServiceRequestObject) (gen.SetBenchServiceResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.ChangeBenchService{Bench: day.BenchID(r.Bench), Out: r.Body.Out}
	if r.Body.Reason != nil {
		c.Reason = day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)}
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.SetBenchService200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// WantOfficial asks for an official at a bench, or says that one has come; a volunteer
// only at the own bench.
func (s meetBenches) WantOfficial(ctx context.Context, r gen.WantOfficialRequestObject) (gen.WantOfficialResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	c := meet.WantOfficial{Bench: day.BenchID(r.Bench), Wanted: r.Body.Wanted}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.WantOfficial200JSONResponse{ReceiptJSONResponse: receipt}, err
}
