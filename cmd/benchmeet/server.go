package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/erasure"
	"benchmeet/api/fleet"
	"benchmeet/api/health"
	"benchmeet/api/hosted"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/live"
	"benchmeet/api/ratings"
	"benchmeet/api/read"
	"benchmeet/api/rest"
	"benchmeet/api/store"
	"benchmeet/api/view"
)

// serverOptions are the choices of "benchmeet serve".
type serverOptions struct {
	Listen   string // host:port; port 0 takes a free one
	Data     string // folder of the SQLite file
	Database string // PostgreSQL address; empty is SQLite
	Club     store.Club
	Scale    float64 // of the clock; 1 is real time
	// Clock is the machine's clock; nil is the real one.
	Clock func() time.Time
	// Stepped says that Clock is stepped by who plays a day, so that nobody is warned of it.
	Stepped bool
	// Proxies are believed when they say for whom they ask.
	Proxies proxies
	// TLS says whether and how https is served beside http.
	TLS tlsSettings
	// LogRequests logs every request, not those alone that were refused or failed.
	LogRequests bool
	// Listeners bounds the live feed; 0 is what it takes by itself.
	Listeners int
	// Feed is the address of a broker by which feed nodes take the live feed; empty for none.
	Feed string
	// Models are what is read and written; nil is all that this program knows. Tests run a
	// server that knows less.
	Models *models
	// Beat is how often the server tells others on its database that it lives; 0 is as usual.
	Beat time.Duration
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
	fleet    *fleet.Member // nil where no other server can share the store
	meets    *ledger.OfMeets
	clubs    *ledger.OfClubs
	hub      *live.Hub
	nodes    *feedNodes // nil without a broker
	intake   *intake.Intake
	ratings  *ratings.Keeper
	erasures *erasure.Eraser
	hosted   *hosted.Register
	http     *http.Server
	address  net.Addr
	secure   *secured // nil on plain http alone
	clock    clock
	jumps    jumps
	beside   *beside
	metrics  *health.Metrics
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
	s := &server{options: o, store: db, clock: newClock(o.Scale, o.Clock), beside: newBeside(), ended: make(chan error, 2)}
	if err := s.wire(ctx); err != nil {
		s.end()
		return nil, errors.Join(err, db.Close())
	}
	return s, nil
}

func (s *server) wire(ctx context.Context) error {
	if err := s.store.EnsureClub(ctx, s.options.Club); err != nil {
		return err
	}
	s.hosted = hosted.NewRegister(s.store, s.options.Club.ID, s.clock.now)
	if err := s.hosted.Look(ctx); err != nil {
		return err
	}
	key, err := s.store.Secret(ctx, "order-content")
	if err != nil {
		return err
	}
	alone := !isPostgres(s.options.Database) // a SQLite file has one process
	books := ledger.Options{Logs: s.store, Caches: s.store, Key: key, Now: s.clock.now, Seed: s.options.Seed, Log: s.options.Log, Alone: alone}
	known := s.options.models()
	if s.fleet, err = s.enter(ctx, known); err != nil {
		return err
	}
	if s.fleet != nil {
		books.Fleet = s.fleet
	}
	s.meets = ledger.New(known.meets, books)
	s.clubs = ledger.New(known.clubs, books)
	tokenKey, err := s.store.Secret(ctx, "token-secret")
	if err != nil {
		return err
	}
	s.tokens = auth.Tokens{Store: s.store, Now: s.clock.now, Key: tokenKey, Lent: &auth.Lent{}}
	names := view.NewDirectory(s.store)
	shown := read.New(nil)
	s.hub = live.New(live.Options{
		Meets: s.meets, Clubs: s.clubs, Names: names, Read: shown, Log: s.options.Log, Alone: alone, Most: s.options.Listeners,
	})
	if s.nodes, err = s.feedNodes(); err != nil {
		return err
	}
	s.metrics = health.NewMetrics(s.hub.Listeners)
	s.intake = intake.New(intake.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log, Speed: s.speed, Now: s.clock.now,
	})
	s.ratings = &ratings.Keeper{Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log}
	s.erasures = erasure.New(erasure.Options{Store: s.store, Clubs: s.clubs, Log: s.options.Log, Changed: func(club string) {
		names.Forget(club)
		s.namesChanged(club)
	}})
	// Nobody who was erased is shown; overwriting their space is the sweep's.
	for _, c := range s.hosted.All() {
		if err := s.erasures.Remove(ctx, c.ID); err != nil {
			return err
		}
	}
	listener, err := listenAt(ctx, s.options.Listen)
	if err != nil {
		return err
	}
	s.address = listener.Addr()
	if s.secure, err = s.secured(ctx); err != nil {
		return errors.Join(err, listener.Close())
	}
	handler, err := s.handler(rest.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Intake: s.intake, Erasures: s.erasures, Tokens: s.tokens, Hosted: s.hosted,
		Names: names, Read: shown, NamesChanged: s.namesChanged, Published: s.ratings.Published, Club: s.options.Club.ID,
		Now: s.clock.now, Scale: s.options.Scale, Version: version(), Addresses: s.addresses,
		Jumped: s.jumps.lately, Asker: s.options.Proxies.asker, Secure: s.secure.about, Log: s.options.Log,
	})
	if err != nil {
		return errors.Join(err, listener.Close(), s.secure.close())
	}
	s.background()
	s.http = newHTTP(handler)
	go func() { s.ended <- s.http.Serve(listener) }()
	if s.secure != nil {
		go func() { s.ended <- s.http.Serve(s.secure.listener) }()
	}
	return nil
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
	s.beside.stop()
	var ends sync.WaitGroup
	ends.Go(s.hub.Close)
	ends.Go(func() { finish(s.http) })
	ends.Wait()
	s.end()
	return s.store.Close()
}

// listenAt listens on an address of this machine.
func listenAt(ctx context.Context, address string) (net.Listener, error) {
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", address)
	if err != nil {
		return nil, fmt.Errorf("cannot listen on %s (is another server running there?): %w", address, err)
	}
	return listener, nil
}

// finish ends a server of HTTP; requests under way have a moment.
func finish(s *http.Server) {
	ctx, cancel := context.WithTimeout(context.Background(), finishWithin)
	defer cancel()
	if s.Shutdown(ctx) != nil {
		_ = s.Close() // those under way had their time
	}
}

// end ends what runs beside the requests, and the ledgers.
func (s *server) end() {
	s.beside.stop()
	s.nodes.close()
	var ends sync.WaitGroup
	if s.meets != nil { // wired so far
		ends.Go(s.meets.Close)
		ends.Go(s.clubs.Close)
	}
	ends.Go(s.beside.group.Wait)
	ends.Wait()
	s.leave()
}
