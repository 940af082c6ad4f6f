package rest

import (
	"bytes"
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/view"
)

// sheet is a table to keep under a name.
func sheet(name string, csv []byte) gen.SheetTextcsvResponse {
	return gen.SheetTextcsvResponse{
		Body: bytes.NewReader(csv), ContentLength: int64(len(csv)),
		Headers: gen.SheetResponseHeaders{ContentDisposition: `attachment; filename="` + name + `.csv"`},
	}
}

// GetStandingsTable gives the standings of a division out as a table.
func (s divisions) GetStandingsTable(
	ctx context.Context, r gen.GetStandingsTableRequestObject,
) (gen.GetStandingsTableResponseObject, error) {
	v, d, err := s.divisionView(ctx, r.Meet, r.Division, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetStandingsTable200TextcsvResponse{SheetTextcsvResponse: sheet(r.Meet+"-"+r.Division, view.StandingSheet(v, d))}, nil
}
