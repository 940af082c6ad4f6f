package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// practiceSessions are the practice sessions of a club with their queues.
type practiceSessions struct{ orders }

// ListPracticeSessions lists the newest practice sessions.
func (s practiceSessions) ListPracticeSessions(
	ctx context.Context, r gen.ListPracticeSessionsRequestObject,
) (gen.ListPracticeSessionsResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListPracticeSessions200JSONResponse(view.PracticeSessions(state, wire.OrElse(r.Params.Limit, 20))), nil
}

// GetPracticeSession shows a practice session.
func (s practiceSessions) GetPracticeSession(
	ctx context.Context, r gen.GetPracticeSessionRequestObject,
) (gen.GetPracticeSessionResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	one, there := state.Session(r.Session)
	if !there {
		return nil, refusal.New("no-practice", "session", r.Session)
	}
	return gen.GetPracticeSession200JSONResponse(view.PracticeSession(state, one)), nil
}

// OpenPracticeSession opens a practice session.
func (s practiceSessions) OpenPracticeSession(
	ctx context.Context, r gen.OpenPracticeSessionRequestObject,
) (gen.OpenPracticeSessionResponseObject, error) {
	benches, set := wire.ReadPracticeSession(*r.Body)
	id := madeID("afternoon-", r.Params.IdempotencyKey)
	receipt, err := s.clubOrder(
		ctx, order{key: r.Params.IdempotencyKey, thing: id}, club.OpenPractice{ID: id, Benches: benches, Settings: set},
	)
	return gen.OpenPracticeSession201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// SetPracticeSession changes what a practice session goes by.
func (s practiceSessions) SetPracticeSession(
	ctx context.Context, r gen.SetPracticeSessionRequestObject,
) (gen.SetPracticeSessionResponseObject, error) {
	benches, set := wire.ReadPracticeSession(*r.Body)
	receipt, err := s.clubOrder(
		ctx, order{key: r.Params.IdempotencyKey}, club.SetPractice{Session: r.Session, Benches: benches, Settings: set},
	)
	return gen.SetPracticeSession200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ClosePracticeSession ends a practice session.
func (s practiceSessions) ClosePracticeSession(
	ctx context.Context, r gen.ClosePracticeSessionRequestObject,
) (gen.ClosePracticeSessionResponseObject, error) {
	receipt, err := s.clubOrder(ctx, order{key: r.Params.IdempotencyKey}, club.ClosePractice{Session: r.Session})
	return gen.ClosePracticeSession200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// JoinQueue puts a car into the queue of a session.
func (s practiceSessions) JoinQueue(ctx context.Context, r gen.JoinQueueRequestObject) (gen.JoinQueueResponseObject, error) {
	receipt, err := s.queueOrder(ctx, r.Session, r.Params.IdempotencyKey, club.JoinQueue{Session: r.Session, Number: r.Body.CarNumber})
	return gen.JoinQueue200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// LeaveQueue takes a car out of the queue of a session.
func (s practiceSessions) LeaveQueue(ctx context.Context, r gen.LeaveQueueRequestObject) (gen.LeaveQueueResponseObject, error) {
	receipt, err := s.queueOrder(ctx, r.Session, r.Params.IdempotencyKey, club.LeaveQueue{Session: r.Session, Number: r.Number})
	return gen.LeaveQueue200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// SkipTurn lets the next car of a queue go first.
func (s practiceSessions) SkipTurn(ctx context.Context, r gen.SkipTurnRequestObject) (gen.SkipTurnResponseObject, error) {
	receipt, err := s.queueOrder(ctx, r.Session, r.Params.IdempotencyKey, club.SkipTurn{Session: r.Session, Number: r.Number})
	return gen.SkipTurn200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// queueOrder gives an order about the queue of a session, to whoever may act for one of
// its benches.
func (s practiceSessions) queueOrder(
	ctx context.Context, session string, key gen.OrderKey, c club.Command,
) (gen.ReceiptJSONResponse, error) {
	state, err := s.clubNow(ctx)
	if err != nil {
		return gen.ReceiptJSONResponse{}, err
	}
	if one, there := state.Session(session); there {
		if err := anyBenchAllowed(Caller(ctx).MayUse, one.Benches); err != nil {
			return gen.ReceiptJSONResponse{}, err
		}
	}
	return s.clubOrder(ctx, order{key: key}, c)
}

// anyBenchAllowed refuses who may act for none of the benches.
func anyBenchAllowed(mayUse func(bench string) bool, benches []day.BenchID) error {
	var last day.BenchID
	for _, bench := range benches {
		if mayUse(string(bench)) {
			return nil
		}
		last = bench
	}
	return refusal.New("not-your-bench", "bench", last)
}
