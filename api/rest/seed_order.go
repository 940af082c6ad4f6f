package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// seeds says who is seeded where.
type seeds struct{ orders }

// GetSeedOrder shows who is seeded where in the next draw.
func (s seeds) GetSeedOrder(ctx context.Context, r gen.GetSeedOrderRequestObject) (gen.GetSeedOrderResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	return gen.GetSeedOrder200JSONResponse(v.SeedOrder(d, ratingsIn(state, d))), nil
}

// SeedDivision gives the seed order for the next draw.
func (s seeds) SeedDivision(ctx context.Context, r gen.SeedDivisionRequestObject) (gen.SeedDivisionResponseObject, error) {
	seeds, err := s.seedOrder(ctx, r.Meet, r.Division, *r.Body)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.SeedDivision{
		Division: day.DivisionID(r.Division), SeedOrder: seeds,
	})
	return gen.SeedDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PreviewSeeds shows the first round that an order would give.
func (s seeds) PreviewSeeds(ctx context.Context, r gen.PreviewSeedsRequestObject) (gen.PreviewSeedsResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, nil)
	if err != nil {
		return nil, err
	}
	preview, err := programme.PreviewSeeds(v.State, d.ID, wire.ReadEntryIDs(r.Body.Order))
	if err != nil {
		return nil, err
	}
	return gen.PreviewSeeds200JSONResponse(view.SeedPreview(v, preview)), nil
}
