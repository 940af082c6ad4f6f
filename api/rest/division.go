package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// divisions plans divisions and shows how they stand.
type divisions struct {
	orders
	published func(ctx context.Context, club, meet string)
}

// PutDivision adds a division or changes it before its first draw.
func (s divisions) PutDivision(ctx context.Context, r gen.PutDivisionRequestObject) (gen.PutDivisionResponseObject, error) {
	d, err := wire.ReadDivision(r.Division, *r.Body)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Division}, meet.AddDivision{
		Division: d, Edition: wire.Deref(r.Params.Edition),
	})
	err = s.savedSince(ctx, err, store.MeetStream(s.club(ctx), r.Meet), r.Division, []string{"DivisionAdded"}, func() (any, error) {
		now, d, err := s.divisionView(ctx, r.Meet, r.Division, nil)
		return now.Division(d), err
	})
	return gen.PutDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CloseEntries closes a division's entries or opens them again.
func (s divisions) CloseEntries(ctx context.Context, r gen.CloseEntriesRequestObject) (gen.CloseEntriesResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.CloseEntries{
		Division: day.DivisionID(r.Division), Open: !r.Body.Closed, Sure: wire.Deref(r.Params.Sure),
	})
	return gen.CloseEntries200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PublishResults publishes a division's final standings.
func (s divisions) PublishResults(ctx context.Context, r gen.PublishResultsRequestObject) (gen.PublishResultsResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.PublishResults{Division: day.DivisionID(r.Division)})
	if err == nil {
		s.published(ctx, s.club(ctx), r.Meet)
	}
	return gen.PublishResults200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GetStandings shows a division's table.
func (s divisions) GetStandings(ctx context.Context, r gen.GetStandingsRequestObject) (gen.GetStandingsResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "standings/"+r.Division)
}

// GetBracket shows a division's rounds.
func (s divisions) GetBracket(ctx context.Context, r gen.GetBracketRequestObject) (gen.GetBracketResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "bracket/"+r.Division)
}
