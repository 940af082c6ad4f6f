package rest

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/erasure"
	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Server implements the contract.
type Server struct {
	Options
	compared *comparisons
	working  chan struct{} // a place for each stranger whose question is being worked on
}

// Options are what the server needs.
type Options struct {
	Store  store.Store
	Meets  *intake.Meets
	Clubs  *intake.Clubs
	Intake *intake.Intake
	// Erasures finishes what the club's log calls erased.
	Erasures *erasure.Eraser
	Tokens   auth.Tokens
	Names    *view.Directory
	// NamesChanged is called after a club's people changed, so that screens follow.
	NamesChanged func(club string)
	// Published is called after results of a meet were published, so that they are rated.
	Published func(ctx context.Context, club, meet string)
	// Club is the club whose pages the public sees.
	Club string
	// Now is the server's clock; Scale says how much faster than life it runs.
	Now     func() time.Time
	Scale   float64
	Version string
	// Addresses lists where browsers may open this server, the best first.
	Addresses func() []string
	Log       *slog.Logger
}

// Register puts the API's routes and their middleware on e. The caller is known,
// and may do what is asked, before anything of a body is read.
func Register(e *echo.Echo, o Options) error {
	s := &Server{Options: o, compared: &comparisons{}, working: make(chan struct{}, mostWorking)}
	contract, err := readContract()
	if err != nil {
		return err
	}
	e.HTTPErrorHandler = s.problem
	api := e.Group("", s.outlive, prepare, compress(), s.identify, contract.admit, readBody, contract.validate)
	strict := gen.NewStrictHandler(s, []gen.StrictMiddlewareFunc{s.inTurn, authorise})
	gen.RegisterHandlers(api, overChunks{strict, s})
	return nil
}

// Identify is the middleware that finds the caller and outlives faults, for routes
// that are not in the contract; Caller then reads who it is.
func Identify(o Options) echo.MiddlewareFunc {
	s := &Server{Options: o}
	return func(next echo.HandlerFunc) echo.HandlerFunc { return s.outlive(s.identify(next)) }
}

// club is the club of the caller, or the public one.
func (s *Server) club(ctx context.Context) string {
	if c := Caller(ctx); c.Club != "" {
		return c.Club
	}
	return s.Club
}

// readWithin bounds how long a read waits for a position of the log.
const readWithin = 5 * time.Second

// meetView reads a meet, refusing one that is not there.
func (s *Server) meetView(ctx context.Context, id string, atLeast *int64) (view.MeetView, error) {
	ctx, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	club := s.club(ctx)
	seq := int64(0)
	if atLeast != nil {
		seq = *atLeast
	}
	snapshot, err := s.reached(ctx, id, seq)
	if err != nil {
		return view.MeetView{}, err
	}
	if !snapshot.State.Planned {
		return view.MeetView{}, notFound("no-meet", "meet", id)
	}
	names, err := s.Names.Names(ctx, club)
	if err != nil {
		return view.MeetView{}, err
	}
	return view.MeetView{ID: id, State: snapshot.State, Head: snapshot.Head, Names: names}, nil
}

// reached is a meet at a position of its log or behind it.
func (s *Server) reached(ctx context.Context, id string, seq int64) (ledger.Snapshot[day.State], error) {
	snapshot, err := s.Meets.At(ctx, store.MeetStream(s.club(ctx), id), seq)
	var behind *ledger.BehindError
	if errors.As(err, &behind) && behind.Now == 0 {
		return snapshot, notFound("no-meet", "meet", id)
	}
	return snapshot, err
}

// GetAbout says what this server is.
func (s *Server) GetAbout(context.Context, gen.GetAboutRequestObject) (gen.GetAboutResponseObject, error) {
	return gen.GetAbout200JSONResponse{
		Version: s.Version, Now: s.Now().UTC(), ClockScale: s.Scale, Club: s.Club, Addresses: s.Addresses(),
	}, nil
}

// noStore keeps answers out of caches: they are about this moment.
func noStore(h http.Header) { h.Set("Cache-Control", "no-store") }

// ClubOf is the club that a request is about, for routes that are not in the
// contract.
func ClubOf(ctx context.Context, o Options) string { return (&Server{Options: o}).club(ctx) }

// Refuse makes an error of the catalogue with a status, for routes that are not
// in the contract.
func Refuse(status int, code string, pairs ...any) error {
	return bad(status, refusal.Code(code), pairs...)
}
