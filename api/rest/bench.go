package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// benches are the club's benches and what each has to do.
type benches struct {
	orders
	intake *intake.Intake
	heard  *boxesHeard
}

// ListBenches lists the benches of the club.
func (s benches) ListBenches(ctx context.Context, _ gen.ListBenchesRequestObject) (gen.ListBenchesResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	out := gen.ListBenches200JSONResponse{Benches: []gen.Bench{}}
	for _, b := range state.SortedBenches() {
		shown := wire.ShowBench(b.Bench)
		shown.Changed = wire.OptInstant(b.ChangedUS)
		out.Benches = append(out.Benches, shown)
	}
	return out, nil
}

// PutBench registers a bench or changes its settings.
func (s benches) PutBench(ctx context.Context, r gen.PutBenchRequestObject) (gen.PutBenchResponseObject, error) {
	receipt, err := s.clubOrder(
		ctx, order{key: r.Params.IdempotencyKey, thing: r.Bench},
		club.RegisterBench{Bench: wire.ReadBench(r.Bench, *r.Body), Sure: wire.Deref(r.Params.Sure), Edition: wire.Deref(r.Params.Edition)},
	)
	err = s.savedSince(ctx, err, store.ClubStream(s.club(ctx)), r.Bench, []string{"BenchRegistered"}, func() (any, error) {
		state, err := s.clubState(ctx)
		if err != nil {
			return nil, err
		}
		return wire.ShowBench(state.Benches[day.BenchID(r.Bench)].Bench), nil
	})
	return gen.PutBench200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RetireBench takes a bench out of use.
func (s benches) RetireBench(ctx context.Context, r gen.RetireBenchRequestObject) (gen.RetireBenchResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, club.RetireBench{Bench: day.BenchID(r.Bench)})
	return gen.RetireBench200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GetBenchOrder says what a bench has to do now.
func (s benches) GetBenchOrder(ctx context.Context, r gen.GetBenchOrderRequestObject) (gen.GetBenchOrderResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	s.heard.asked(Caller(ctx), r.Bench, wire.Deref(r.Params.Unplugged))
	out, err := s.benchOrder(ctx, day.BenchID(r.Bench))
	if err == nil {
		out, err = s.listening(ctx, out, day.BenchID(r.Bench))
	}
	return gen.GetBenchOrder200JSONResponse(out), err
}

func (s benches) benchOrder(ctx context.Context, bench day.BenchID) (gen.BenchOrder, error) {
	found, err := s.intake.Assignment(ctx, s.club(ctx), bench)
	if err != nil {
		return gen.BenchOrder{}, err
	}
	if found.Meet != "" {
		names, err := s.names.Names(ctx, s.club(ctx))
		if err != nil {
			return gen.BenchOrder{}, err
		}
		return view.MeetView{ID: found.Meet, State: found.State, Names: names}.BenchOrder(found.Order), nil
	}
	state, err := s.clubState(ctx)
	if err != nil {
		return gen.BenchOrder{}, err
	}
	return view.PracticeOrder(state, bench, found.OutOfService), nil
}
