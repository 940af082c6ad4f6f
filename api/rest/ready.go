package rest

import (
	"context"
	"net/http"
	"strings"

	"benchmeet/api/gen"
	"benchmeet/api/read"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// ready is an answer whose bytes are kept by the read model: sending it costs little
// more than that.
type ready struct {
	*read.Shown
	packed bool
}

// show finds what a page shows of a meet.
func (s reads) show(ctx context.Context, meet string, atLeast *int64, page string) (ready, error) {
	v, err := s.meetView(ctx, meet, atLeast)
	if err != nil {
		return ready{}, err
	}
	shown, there := s.shown.Show(store.MeetStream(s.club(ctx), meet), v, page)
	if kind, of, _ := strings.Cut(page, "/"); !there {
		switch kind {
		case "standings", "bracket":
			return ready{}, refusal.New("no-division", "division", of)
		case "car":
			return ready{}, refusal.New("no-entry", "entry", of)
		}
	}
	return ready{shown, askedOf(ctx).packed}, nil
}

func (a ready) write(w http.ResponseWriter) error {
	body := a.Body()
	w.Header().Set("Content-Type", "application/json")
	w.Header().Add("Vary", "Accept-Encoding")
	if a.packed && len(body) >= leastCompressed {
		w.Header().Set("Content-Encoding", "gzip")
		body = a.Packed()
	}
	w.WriteHeader(http.StatusOK)
	_, err := w.Write(body)
	return err
}

func (a ready) VisitGetMeetResponse(w http.ResponseWriter) error      { return a.write(w) }
func (a ready) VisitGetBoardResponse(w http.ResponseWriter) error     { return a.write(w) }
func (a ready) VisitGetDayPlanResponse(w http.ResponseWriter) error   { return a.write(w) }
func (a ready) VisitGetStandingsResponse(w http.ResponseWriter) error { return a.write(w) }
func (a ready) VisitGetBracketResponse(w http.ResponseWriter) error   { return a.write(w) }
func (a ready) VisitListHeatsResponse(w http.ResponseWriter) error    { return a.write(w) }
func (a ready) VisitListRunsResponse(w http.ResponseWriter) error     { return a.write(w) }
func (a ready) VisitListEntriesResponse(w http.ResponseWriter) error  { return a.write(w) }
func (a ready) VisitGetCarDayResponse(w http.ResponseWriter) error    { return a.write(w) }

var (
	_ gen.GetMeetResponseObject      = ready{}
	_ gen.GetBoardResponseObject     = ready{}
	_ gen.GetDayPlanResponseObject   = ready{}
	_ gen.GetStandingsResponseObject = ready{}
	_ gen.GetBracketResponseObject   = ready{}
	_ gen.ListHeatsResponseObject    = ready{}
	_ gen.ListRunsResponseObject     = ready{}
	_ gen.ListEntriesResponseObject  = ready{}
	_ gen.GetCarDayResponseObject    = ready{}
)
