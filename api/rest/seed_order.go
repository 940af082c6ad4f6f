package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/domain/meet"
)

// GetSeedOrder shows who is seeded where in the next draw.
func (s *Server) GetSeedOrder(ctx context.Context, r gen.GetSeedOrderRequestObject) (gen.GetSeedOrderResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetSeedOrder200JSONResponse(v.SeedOrder(d)), nil
}

// SeedDivision gives the seed order for the next draw.
func (s *Server) SeedDivision(ctx context.Context, r gen.SeedDivisionRequestObject) (gen.SeedDivisionResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.SeedDivision{
		Division: meet.DivisionID(r.Division), SeedOrder: seedOrder(*r.Body),
	})
	return gen.SeedDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}

func seedOrder(b gen.SeedOrderBody) meet.SeedOrder {
	return meet.SeedOrder{Method: meet.SeedMethod(b.Method), Order: entryIDs(deref(b.Order))}
}

// PreviewSeeds shows the first round that an order would give.
func (s *Server) PreviewSeeds(ctx context.Context, r gen.PreviewSeedsRequestObject) (gen.PreviewSeedsResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, nil)
	if err != nil {
		return nil, err
	}
	preview, err := v.State.PreviewSeeds(d.ID, entryIDs(r.Body.Order))
	if err != nil {
		return nil, err
	}
	return gen.PreviewSeeds200JSONResponse(v.SeedPreview(preview)), nil
}

func entryIDs(texts []string) []meet.EntryID {
	out := make([]meet.EntryID, len(texts))
	for i, text := range texts {
		out[i] = meet.EntryID(text)
	}
	return out
}
