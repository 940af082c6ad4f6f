package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
)

// ListRatings lists how strong entrants are with each class of cars.
func (s *Server) ListRatings(ctx context.Context, _ gen.ListRatingsRequestObject) (gen.ListRatingsResponseObject, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	names, err := s.Names.Names(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	return gen.ListRatings200JSONResponse(view.Ratings(state, names)), nil
}

// ratings are the club's ratings with the cars of a division's class.
func (s *Server) ratings(ctx context.Context, d day.Division) (map[day.EntrantID]club.Rating, error) {
	state, err := s.clubState(ctx)
	if err != nil {
		return nil, err
	}
	out := map[day.EntrantID]club.Rating{}
	for _, r := range state.Ratings() {
		if r.Class == d.Class.Name {
			out[r.Entrant] = r
		}
	}
	return out, nil
}
