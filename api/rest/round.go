package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// rounds draws a division's rounds and closes them.
type rounds struct{ orders }

// DrawRound draws the next round.
func (s rounds) DrawRound(ctx context.Context, r gen.DrawRoundRequestObject) (gen.DrawRoundResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.DrawRound{
		Division: day.DivisionID(r.Division), Sure: wire.Deref(r.Params.Sure),
	})
	return gen.DrawRound200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DrawAgain replaces the last draw.
func (s rounds) DrawAgain(ctx context.Context, r gen.DrawAgainRequestObject) (gen.DrawAgainResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.DrawAgain{Division: day.DivisionID(r.Division), Reason: reason(&o, r.Body.Reason)}
	if r.Body.Seeds != nil {
		seeds, err := s.seedOrder(ctx, r.Meet, r.Division, *r.Body.Seeds)
		if err != nil {
			return nil, err
		}
		c.Seeds = &seeds
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.DrawAgain200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CloseRound makes a drawn round official.
func (s rounds) CloseRound(ctx context.Context, r gen.CloseRoundRequestObject) (gen.CloseRoundResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.CloseRound{Division: day.DivisionID(r.Division), Round: wire.Deref(r.Body.Round)}
	if r.Body.Early != nil {
		early := reason(&o, *r.Body.Early)
		c.Early = &early
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.CloseRound200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// EndProgramme ends a division before its last round.
func (s rounds) EndProgramme(ctx context.Context, r gen.EndProgrammeRequestObject) (gen.EndProgrammeResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.EndProgramme{Division: day.DivisionID(r.Division), Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.EndProgramme200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// LetDrawStand lets an outdated draw stand.
func (s rounds) LetDrawStand(ctx context.Context, r gen.LetDrawStandRequestObject) (gen.LetDrawStandResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.LetDrawStand{Division: day.DivisionID(r.Division), Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.LetDrawStand200JSONResponse{ReceiptJSONResponse: receipt}, err
}
