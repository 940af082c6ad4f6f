package rest

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/erasure"
	"benchmeet/api/gen"
	"benchmeet/api/hosted"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/read"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/quicker"
	"benchmeet/domain/refusal"
)

// Server implements the contract: a handler for each resource, each with what it
// needs and no more.
type Server struct {
	accounts
	about
	benches
	calendars
	carLives
	cars
	chunks
	clubs
	comparedBenches
	comparedCars
	dayPlans
	divisions
	entries
	entryTables
	formatChoices
	heats
	lessons
	logs
	meetBenches
	meets
	packs
	people
	practice
	practiceSessions
	protests
	ratings
	remeasuring
	rounds
	rulings
	runs
	seeds
	sessions
	tables
	tokens
}

func newServer(o Options, p *pace) Server {
	on := newReads(o)
	give := orders{on, o.NamesChanged, o.Store}
	compare := comparing{on, &comparisons{}}
	reasons := texts{on, o.Store}
	heard := newBoxesHeard(o.Store, o.Now)
	return Server{
		accounts:         accounts{on, accountsOf(o), o.Now, p},
		about:            about{on, o.Version, o.Now, o.Scale, o.addressesAt, secureOf(o)},
		benches:          benches{give, o.Intake, heard},
		calendars:        calendars{on, o.Store},
		comparedCars:     comparedCars{give, o.Intake, &runTraits{kept: map[traitsKey]quicker.Traits{}}},
		carLives:         carLives{give, o.Intake},
		cars:             cars{give},
		chunks:           chunks{on, o.Intake, heard},
		clubs:            clubs{on, o.Store, o.Tokens, o.Hosted, o.Addresses},
		comparedBenches:  comparedBenches{give, compare},
		dayPlans:         dayPlans{give, o.Now, &officialPlans{kept: map[planKey]gen.DayPlan{}}},
		divisions:        divisions{give, o.Published},
		entries:          entries{give},
		entryTables:      entryTables{give, o.Store},
		formatChoices:    formatChoices{on, o.Now, newComparedFormats()},
		heats:            heats{give},
		lessons:          lessons{on, o.Now},
		logs:             logs{on, o.Store},
		meetBenches:      meetBenches{give},
		meets:            meets{give, compare, o.Now, o.trouble, o.Intake, o.Jumped},
		packs:            packs{give},
		people:           people{give, o.Store, o.Erasures, o.Log},
		practice:         practice{give, o.Intake},
		practiceSessions: practiceSessions{give},
		protests:         protests{give, reasons},
		ratings:          ratings{on},
		remeasuring:      remeasuring{give, o.Intake},
		rounds:           rounds{give},
		rulings:          rulings{give, reasons, o.Tokens},
		runs:             runs{on, o.Intake, newLongRuns()},
		seeds:            seeds{give},
		sessions:         sessions{on, o.Store, o.Tokens, o.Now, p},
		tables:           tables{give, o.Now},
		tokens:           tokens{on, o.Store, o.Tokens, o.Now, o.addressesAt},
	}
}

func accountsOf(o Options) auth.Accounts {
	return auth.Accounts{Tokens: o.Tokens, Kept: o.Store, Passwords: auth.NewPasswords(), Waits: auth.NewWaits(o.Now)}
}

func newReads(o Options) reads { return reads{o.Meets, o.Clubs, o.Names, o.Read, o.Club} }

func newDoor(o Options) door {
	return door{
		reads: newReads(o), tokens: o.Tokens, log: o.Log, trouble: o.trouble, pace: newPace(o.Asker, o.Log),
		working: make(chan struct{}, mostWorking),
	}
}

var _ gen.StrictServerInterface = Server{}

// Options are what the server needs.
type Options struct {
	Store  store.Store
	Meets  *ledger.OfMeets
	Clubs  *ledger.OfClubs
	Intake *intake.Intake
	// Erasures finishes what the club's log calls erased.
	Erasures *erasure.Eraser
	Tokens   auth.Tokens
	// Hosted are the clubs of this server.
	Hosted *hosted.Register
	Names  *view.Directory
	// Read is what is shown of meets, shared with the live feed.
	Read *read.Model
	// NamesChanged is called after a club's people changed, so that screens follow.
	NamesChanged func(club string)
	// Published is called after results of a meet were published, so that they are rated.
	Published func(ctx context.Context, club, meet string)
	// Club is the club of the server's own address; those with addresses of their own
	// come with At.
	Club string
	// Now is the server's clock; Scale says how much faster than life it runs.
	Now     func() time.Time
	Scale   float64
	Version string
	// Addresses lists where browsers may open this server, the best first.
	Addresses func() []string
	// Asker is the network address that a request comes from.
	Asker func(*http.Request) string
	// Secure says at which addresses the server speaks TLS, nil where it does not.
	Secure func() *gen.Secure
	Log    *slog.Logger

	// Jumped says when the server's clock jumped, where it did a while ago; nil where
	// nobody looks.
	Jumped func() (at time.Time, jumped bool)

	trouble *trouble // what keeps the server from keeping anything
}

// addressesAt are the addresses of the club that a request asks, the best first.
func (o Options) addressesAt(ctx context.Context) []string {
	p := placeOf(ctx)
	if p.Origin != "" {
		return []string{p.Origin}
	}
	all := o.Addresses()
	out := make([]string, 0, len(all))
	for _, one := range all {
		out = append(out, strings.TrimSuffix(one, "/")+p.Base)
	}
	return out
}

func secureOf(o Options) func() *gen.Secure {
	if o.Secure == nil {
		return func() *gen.Secure { return nil }
	}
	return o.Secure
}

// Register puts the API's routes and their middleware on e. The caller is known,
// and may do what is asked, before anything of a body is read.
func Register(e *echo.Echo, o Options) error {
	o.trouble = &trouble{}
	d := newDoor(o)
	s := newServer(o, d.pace)
	contract, err := readContract()
	if err != nil {
		return err
	}
	e.HTTPErrorHandler = d.problem
	api := e.Group("", d.outlive, prepare, compress(), there, d.identify, d.pace.keep, contract.admit, readBody, contract.validate)
	strict := gen.NewStrictHandler(s, []gen.StrictMiddlewareFunc{d.inTurn, authorise})
	gen.RegisterHandlers(api, overChunks{strict, s.chunks})
	return nil
}

// Identify is the middleware that finds the caller and outlives faults, for routes
// that are not in the contract; Caller then reads who it is.
func Identify(o Options) echo.MiddlewareFunc {
	d := newDoor(o)
	return func(next echo.HandlerFunc) echo.HandlerFunc { return d.outlive(there(d.identify(next))) }
}

// Problems answers the errors of routes as those of the API are answered, for a server
// that has no API.
func Problems(log *slog.Logger) echo.HTTPErrorHandler {
	return door{log: log, trouble: &trouble{}}.problem
}

// Refused is what an error tells who asked.
func Refused(err error) *refusal.Refusal {
	_, no := explain(err)
	return no
}

// ClubOf is the club that a request is about, for routes that are not in the
// contract.
func ClubOf(ctx context.Context, o Options) string { return newReads(o).club(ctx) }
