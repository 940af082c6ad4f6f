package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
)

// ratings shows how strong entrants are.
type ratings struct{ reads }

// ListRatings lists how strong entrants are with each class of cars.
func (s ratings) ListRatings(ctx context.Context, _ gen.ListRatingsRequestObject) (gen.ListRatingsResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	names, err := s.names.Names(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	return gen.ListRatings200JSONResponse(view.Ratings(state, names)), nil
}
