package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// GetSeedOrder shows who is seeded where in the next draw.
func (s *Server) GetSeedOrder(ctx context.Context, r gen.GetSeedOrderRequestObject) (gen.GetSeedOrderResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	ratings, err := s.ratings(ctx, d)
	if err != nil {
		return nil, err
	}
	return gen.GetSeedOrder200JSONResponse(v.SeedOrder(d, ratings)), nil
}

// SeedDivision gives the seed order for the next draw.
func (s *Server) SeedDivision(ctx context.Context, r gen.SeedDivisionRequestObject) (gen.SeedDivisionResponseObject, error) {
	seeds, err := s.seedOrder(ctx, r.Meet, r.Division, *r.Body)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.SeedDivision{
		Division: day.DivisionID(r.Division), SeedOrder: seeds,
	})
	return gen.SeedDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// seedOrder reads a seed order; by rating it goes by the club's ratings of now.
func (s *Server) seedOrder(ctx context.Context, meetID, division string, b gen.SeedOrderBody) (programme.SeedOrder, error) {
	out := wire.ReadSeedOrder(b)
	if out.Method != programme.SeedRating {
		return out, nil
	}
	v, d, err := s.divisionView(ctx, meetID, division, nil)
	if err != nil {
		return out, err
	}
	ratings, err := s.ratings(ctx, d)
	if err != nil {
		return out, err
	}
	for _, e := range v.State.SortedEntries(d.ID) {
		if r, rated := ratings[e.Entrant]; rated {
			out.Ratings = append(out.Ratings, day.Rated{Entry: e.ID, Rating: r.Milli})
		}
	}
	return out, nil
}

// PreviewSeeds shows the first round that an order would give.
func (s *Server) PreviewSeeds(ctx context.Context, r gen.PreviewSeedsRequestObject) (gen.PreviewSeedsResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, nil)
	if err != nil {
		return nil, err
	}
	preview, err := programme.PreviewSeeds(v.State, d.ID, wire.ReadEntryIDs(r.Body.Order))
	if err != nil {
		return nil, err
	}
	return gen.PreviewSeeds200JSONResponse(v.SeedPreview(preview)), nil
}
