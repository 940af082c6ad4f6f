package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/naming"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// practice arms benches for practice and shows what came of it.
type practice struct {
	orders
	intake *intake.Intake
}

// ArmPractice asks a bench for a practice run.
func (s practice) ArmPractice(ctx context.Context, r gen.ArmPracticeRequestObject) (gen.ArmPracticeResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	found, err := s.intake.Assignment(ctx, s.club(ctx), day.BenchID(r.Bench))
	if err != nil {
		return nil, err
	}
	o := order{key: r.Params.IdempotencyKey}
	if found.Meet != "" {
		o.refuse = naming.Refusal(found.State, refusal.New("bench-busy", "bench", found.Order.Bench, "heat", found.Order.Heat))
	}
	receipt, err := s.clubOrder(ctx, o, wire.ReadArming(r.Bench, *r.Body))
	return gen.ArmPractice200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CancelPractice takes back what a bench was armed for.
func (s practice) CancelPractice(ctx context.Context, r gen.CancelPracticeRequestObject) (gen.CancelPracticeResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	c := club.CancelPractice{Bench: day.BenchID(r.Bench)}
	if r.Body != nil {
		c.Run = day.RunID(wire.Deref(r.Body.Run))
	}
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, c)
	return gen.CancelPractice200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GuessRun notes a guess of the armed run.
func (s practice) GuessRun(ctx context.Context, r gen.GuessRunRequestObject) (gen.GuessRunResponseObject, error) {
	if err := benchAllowed(Caller(ctx), r.Bench); err != nil {
		return nil, err
	}
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, club.GuessRun{
		Bench: day.BenchID(r.Bench), DistanceUM: wire.Micrometres(r.Body.DistanceM), Run: day.RunID(wire.Deref(r.Body.Run)),
	})
	return gen.GuessRun200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// MovePracticeRun says that another car made a run.
func (s practice) MovePracticeRun(ctx context.Context, r gen.MovePracticeRunRequestObject) (gen.MovePracticeRunResponseObject, error) {
	receipt, err := s.runOrder(ctx, r.Run, r.Params.IdempotencyKey, club.MovePractice{Run: day.RunID(r.Run), Number: r.Body.CarNumber})
	return gen.MovePracticeRun200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DropPracticeRun says that a run does not count.
func (s practice) DropPracticeRun(ctx context.Context, r gen.DropPracticeRunRequestObject) (gen.DropPracticeRunResponseObject, error) {
	c := club.JudgePractice{Run: day.RunID(r.Run), Drop: workshop.Drop(r.Body.Why)}
	receipt, err := s.runOrder(ctx, r.Run, r.Params.IdempotencyKey, c)
	return gen.DropPracticeRun200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// KeepPracticeRun says that a dropped run counts.
func (s practice) KeepPracticeRun(ctx context.Context, r gen.KeepPracticeRunRequestObject) (gen.KeepPracticeRunResponseObject, error) {
	receipt, err := s.runOrder(ctx, r.Run, r.Params.IdempotencyKey, club.JudgePractice{Run: day.RunID(r.Run)})
	return gen.KeepPracticeRun200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// runOrder gives an order about a practice run, to whoever may act for its bench.
func (s practice) runOrder(ctx context.Context, run string, key gen.OrderKey, c club.Command) (gen.ReceiptJSONResponse, error) {
	state, err := s.clubNow(ctx)
	if err != nil {
		return gen.ReceiptJSONResponse{}, err
	}
	if made, there := state.PracticeRun(day.RunID(run)); there {
		if err := benchAllowed(Caller(ctx), string(made.Bench)); err != nil {
			return gen.ReceiptJSONResponse{}, err
		}
	}
	return s.clubOrder(ctx, order{key: key}, c)
}

// ListPractice lists the newest practice runs.
func (s practice) ListPractice(ctx context.Context, r gen.ListPracticeRequestObject) (gen.ListPracticeResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	board := view.Practice(state, day.CarID(wire.Deref(r.Params.Car)), wire.OrElse(r.Params.Limit, 50))
	return gen.ListPractice200JSONResponse(board), nil
}
