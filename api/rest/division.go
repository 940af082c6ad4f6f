package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// PutDivision adds a division or changes it before its first draw.
func (s *Server) PutDivision(ctx context.Context, r gen.PutDivisionRequestObject) (gen.PutDivisionResponseObject, error) {
	d, err := wire.ReadDivision(r.Division, *r.Body)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Division}, meet.AddDivision{Division: d})
	return gen.PutDivision200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// CloseEntries closes a division's entries or opens them again.
func (s *Server) CloseEntries(ctx context.Context, r gen.CloseEntriesRequestObject) (gen.CloseEntriesResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.CloseEntries{
		Division: day.DivisionID(r.Division), Open: !r.Body.Closed,
	})
	return gen.CloseEntries200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DrawRound draws the next round.
func (s *Server) DrawRound(ctx context.Context, r gen.DrawRoundRequestObject) (gen.DrawRoundResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.DrawRound{Division: day.DivisionID(r.Division)})
	return gen.DrawRound200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DrawAgain replaces the last draw.
func (s *Server) DrawAgain(ctx context.Context, r gen.DrawAgainRequestObject) (gen.DrawAgainResponseObject, error) {
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

// CloseRound makes the last drawn round official.
func (s *Server) CloseRound(ctx context.Context, r gen.CloseRoundRequestObject) (gen.CloseRoundResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.CloseRound{Division: day.DivisionID(r.Division)}
	if r.Body.Early != nil {
		early := reason(&o, *r.Body.Early)
		c.Early = &early
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.CloseRound200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// EndProgramme ends a division before its last round.
func (s *Server) EndProgramme(ctx context.Context, r gen.EndProgrammeRequestObject) (gen.EndProgrammeResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.EndProgramme{Division: day.DivisionID(r.Division), Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.EndProgramme200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PublishResults publishes a division's final standings.
func (s *Server) PublishResults(ctx context.Context, r gen.PublishResultsRequestObject) (gen.PublishResultsResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.PublishResults{Division: day.DivisionID(r.Division)})
	if err == nil {
		s.Published(ctx, s.club(ctx), r.Meet)
	}
	return gen.PublishResults200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GetStandings shows a division's table.
func (s *Server) GetStandings(ctx context.Context, r gen.GetStandingsRequestObject) (gen.GetStandingsResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetStandings200JSONResponse(v.Standings(d)), nil
}

// GetBracket shows a division's rounds.
func (s *Server) GetBracket(ctx context.Context, r gen.GetBracketRequestObject) (gen.GetBracketResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetBracket200JSONResponse(v.Bracket(d)), nil
}

func (s *Server) divisionView(ctx context.Context, meetID, id string, atLeast *int64) (view.MeetView, day.Division, error) {
	v, err := s.meetView(ctx, meetID, atLeast)
	if err != nil {
		return v, day.Division{}, err
	}
	d, there := v.State.Divisions[day.DivisionID(id)]
	if !there {
		return v, d, notFound("no-division", "division", id)
	}
	return v, d, nil
}
