package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/erasure"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/live"
	"benchmeet/api/pages"
	"benchmeet/api/ratings"
	"benchmeet/api/rest"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/web"
)

// serverOptions are the choices of "benchmeet serve".
type serverOptions struct {
	Listen   string // host:port; port 0 takes a free one
	Data     string // folder of the SQLite file
	Database string // PostgreSQL address; empty is SQLite
	Club     store.Club
	Scale    float64 // of the clock; 1 is real time
	// Proxies are believed when they say for whom they ask.
	Proxies proxies
	// Seed draws the lots of a rehearsal; nil is the system's random source.
	Seed func(order string) uint64
	Log  *slog.Logger
}

// server is everything that "benchmeet serve" runs, wired together. Tests and
// the rehearsal start it on a free port.
type server struct {
	options  serverOptions
	store    store.Store
	tokens   auth.Tokens
	meets    *intake.Meets
	clubs    *intake.Clubs
	hub      *live.Hub
	intake   *intake.Intake
	ratings  *ratings.Keeper
	erasures *erasure.Eraser
	http     *http.Server
	address  net.Addr
	clock    clock
	stop     context.CancelFunc
	beside   sync.WaitGroup // what runs beside the requests
	ended    chan error
}

// Times of the server.
const (
	sweepEvery  = 5 * time.Second // looks for complete runs that are not recorded
	followEvery = 2 * time.Second // looks for what other servers wrote
	// Requests under way have so long to finish, and the database to close. With
	// the live feed's and the ledgers' own bounds the server ends within five
	// seconds, whoever is slow.
	finishWithin = 1500 * time.Millisecond
	stopWithin   = 4500 * time.Millisecond
)

// startServer opens the database and serves until Close. When it returns, the
// server answers.
func startServer(ctx context.Context, o serverOptions) (*server, error) {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	db, err := openStore(ctx, o.Database, o.Data)
	if err != nil {
		return nil, err
	}
	s := &server{options: o, store: db, clock: newClock(o.Scale), ended: make(chan error, 1)}
	if err := s.wire(ctx); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return s, nil
}

func (s *server) wire(ctx context.Context) error {
	if err := s.store.EnsureClub(ctx, s.options.Club); err != nil {
		return err
	}
	key, err := s.store.Secret(ctx, "order-content")
	if err != nil {
		return err
	}
	alone := !isPostgres(s.options.Database) // a SQLite file has one process
	books := ledger.Options{Logs: s.store, Caches: s.store, Key: key, Now: s.clock.now, Seed: s.options.Seed, Log: s.options.Log, Alone: alone}
	s.meets = ledger.New(ledger.Meets(), books)
	s.clubs = ledger.New(ledger.Clubs(), books)
	tokenKey, err := s.store.Secret(ctx, "token-secret")
	if err != nil {
		return err
	}
	s.tokens = auth.Tokens{Store: s.store, Now: s.clock.now, Key: tokenKey}
	names := view.NewDirectory(s.store)
	s.hub = live.New(live.Options{Meets: s.meets, Clubs: s.clubs, Names: names, Log: s.options.Log, Alone: alone})
	s.intake = intake.New(intake.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log, Speed: s.hub.Speed, Now: s.clock.now,
	})
	s.ratings = &ratings.Keeper{Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log}
	s.erasures = erasure.New(erasure.Options{Store: s.store, Clubs: s.clubs, Log: s.options.Log, Changed: func(club string) {
		names.Forget(club)
		s.hub.NamesChanged(club)
	}})
	// Nobody who was erased is shown; overwriting their space is the sweep's.
	if err := s.erasures.Remove(ctx, s.options.Club.ID); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.options.Listen)
	if err != nil {
		return fmt.Errorf("cannot listen on %s (is another server running there?): %w", s.options.Listen, err)
	}
	s.address = listener.Addr()
	handler, err := s.handler(rest.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Intake: s.intake, Erasures: s.erasures, Tokens: s.tokens,
		Names: names, NamesChanged: s.hub.NamesChanged, Published: s.ratings.Published, Club: s.options.Club.ID,
		Now: s.clock.now, Scale: s.options.Scale, Version: version(), Addresses: s.addresses, Log: s.options.Log,
	})
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	if err := s.background(); err != nil { // before anybody is answered
		s.end()
		return errors.Join(err, listener.Close())
	}
	s.http = newHTTP(handler)
	go func() { s.ended <- s.http.Serve(listener) }()
	return nil
}

// background starts what runs beside the requests.
func (s *server) background() error {
	ctx, stop := context.WithCancel(context.Background())
	s.stop = stop
	for _, follow := range []func(context.Context, <-chan store.Stream, time.Duration){s.meets.Follow, s.clubs.Follow} {
		notices, err := s.store.Changes(ctx)
		if err != nil {
			return err
		}
		s.beside.Go(func() { follow(ctx, notices, followEvery) })
	}
	s.beside.Go(func() { s.sweep(ctx) })
	return nil
}

// run runs something beside the requests until the server ends.
func (s *server) run(ctx context.Context, do func(context.Context)) {
	ctx, stop := context.WithCancel(ctx)
	s.beside.Go(func() {
		defer stop()
		do(ctx)
	})
	before := s.stop
	s.stop = func() { stop(); before() }
}

func (s *server) sweep(ctx context.Context) {
	tick := time.NewTicker(sweepEvery)
	defer tick.Stop()
	for {
		if err := outlived(func() error { return s.intake.Sweep(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("runs wait to be recorded; trying again", "error", err)
		}
		if err := outlived(func() error { return s.erasures.Finish(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("an erasure waits to be finished; trying again", "error", err)
		}
		if err := outlived(func() error { return s.ratings.Sweep(ctx, s.options.Club.ID) }); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("published results wait to be rated; trying again", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// outlived makes an error of a panic: a fault in one sweep must not end the venue.
func outlived(do func() error) (err error) {
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
		}
	}()
	return do()
}

// handler puts the API, the live feed and the pages together.
func (s *server) handler(o rest.Options) (http.Handler, error) {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	if err := rest.Register(e, o); err != nil {
		return nil, err
	}
	who := func(r *http.Request) live.Who {
		return live.Who{Address: s.options.Proxies.asker(r), Caller: rest.Caller(r.Context()).Actor}
	}
	e.GET("/api/v1/meets/:meet/live", func(c echo.Context) error {
		return liveError(s.hub.ServeMeet(c.Response(), c.Request(), who(c.Request()), rest.ClubOf(c.Request().Context(), o), c.Param("meet")))
	}, rest.Identify(o))
	e.GET("/api/v1/practice/live", func(c echo.Context) error {
		return liveError(s.hub.ServePractice(c.Response(), c.Request(), who(c.Request()), rest.ClubOf(c.Request().Context(), o)))
	}, rest.Identify(o))
	files := echo.WrapHandler(pages.Server(web.Pages()))
	page := func(c echo.Context) error {
		if strings.HasPrefix(c.Request().URL.Path, "/api/") {
			return rest.Refuse(http.StatusNotFound, "no-page") // an address of the API, not of a face
		}
		return files(c)
	}
	for _, path := range []string{"/", "/*"} { // the API's group would answer "/" with its own no
		e.GET(path, page)
		e.HEAD(path, page)
	}
	return e, nil
}

func liveError(err error) error {
	var no *live.Refusal
	if errors.As(err, &no) {
		return rest.Refuse(no.Status, no.Code, "topic", no.Topic, "meet", no.Topic)
	}
	return err
}

// url is the address for this machine.
func (s *server) url() string {
	_, port, _ := net.SplitHostPort(s.address.String())
	return "http://127.0.0.1:" + port
}

// addresses lists where browsers may open the server: the network's addresses
// first, because phones need them.
func (s *server) addresses() []string {
	host, port, err := net.SplitHostPort(s.address.String())
	if err != nil {
		return []string{s.url()}
	}
	if ip := net.ParseIP(host); ip != nil && !ip.IsUnspecified() {
		return []string{"http://" + net.JoinHostPort(host, port)}
	}
	var out []string
	interfaces, err := net.InterfaceAddrs()
	if err == nil {
		for _, a := range interfaces {
			if n, is := a.(*net.IPNet); is && n.IP.IsGlobalUnicast() && n.IP.To4() != nil {
				out = append(out, "http://"+net.JoinHostPort(n.IP.String(), port))
			}
		}
	}
	return append(out, s.url())
}

// Close ends the server: no new requests, those under way finish, what runs beside
// them ends, the database closes last. It takes no longer than stopWithin: who is
// slow, or a database that does not answer, is left; what was acknowledged is on
// disk in any case.
func (s *server) Close() error {
	done := make(chan error, 1)
	go func() { done <- s.close() }()
	select {
	case err := <-done:
		return err
	case <-time.After(stopWithin):
		return errors.New("the database does not answer; ending without it")
	}
}

func (s *server) close() error {
	s.stop()
	var ends sync.WaitGroup
	ends.Go(s.hub.Close)
	ends.Go(func() {
		ctx, cancel := context.WithTimeout(context.Background(), finishWithin)
		defer cancel()
		if s.http.Shutdown(ctx) != nil {
			_ = s.http.Close() // those under way had their time
		}
	})
	ends.Wait()
	s.end()
	return s.store.Close()
}

// end ends what runs beside the requests, and the ledgers.
func (s *server) end() {
	s.stop()
	var ends sync.WaitGroup
	ends.Go(s.meets.Close)
	ends.Go(s.clubs.Close)
	ends.Go(s.beside.Wait)
	ends.Wait()
}
