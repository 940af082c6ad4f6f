package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/live"
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
	// Seed draws the lots of a rehearsal; nil is the system's random source.
	Seed func(order string) uint64
	Log  *slog.Logger
}

// server is everything that "benchmeet serve" runs, wired together. Tests and
// the rehearsal start it on a free port.
type server struct {
	options serverOptions
	store   store.Store
	tokens  auth.Tokens
	meets   *intake.Meets
	clubs   *intake.Clubs
	hub     *live.Hub
	intake  *intake.Intake
	ratings *ratings.Keeper
	http    *http.Server
	address net.Addr
	clock   clock
	stop    context.CancelFunc
	ended   chan error
}

// Times of the server.
const (
	sweepEvery   = 5 * time.Second // looks for complete runs that are not recorded
	followEvery  = 2 * time.Second // looks for what other servers wrote
	stopWithin   = 10 * time.Second
	headerWithin = 10 * time.Second
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
	books := ledger.Options{Logs: s.store, Key: key, Now: s.clock.now, Seed: s.options.Seed, Log: s.options.Log}
	s.meets = ledger.New(ledger.Meets(), books)
	s.clubs = ledger.New(ledger.Clubs(), books)
	tokenKey, err := s.store.Secret(ctx, "token-secret")
	if err != nil {
		return err
	}
	s.tokens = auth.Tokens{Store: s.store, Now: s.clock.now, Key: tokenKey}
	names := view.NewDirectory(s.store)
	s.hub = live.New(live.Options{Meets: s.meets, Clubs: s.clubs, Names: names, Log: s.options.Log})
	s.intake = intake.New(intake.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log, Speed: s.hub.Speed,
	})
	s.ratings = &ratings.Keeper{Store: s.store, Meets: s.meets, Clubs: s.clubs, Log: s.options.Log}
	if err := s.finishErasures(ctx); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.options.Listen)
	if err != nil {
		return fmt.Errorf("cannot listen on %s (is another server running there?): %w", s.options.Listen, err)
	}
	s.address = listener.Addr()
	handler, err := s.handler(rest.Options{
		Store: s.store, Meets: s.meets, Clubs: s.clubs, Intake: s.intake, Tokens: s.tokens,
		Names: names, NamesChanged: s.hub.NamesChanged, Published: s.ratings.Published, Club: s.options.Club.ID,
		Now: s.clock.now, Scale: s.options.Scale, Version: version(), Addresses: s.addresses, Log: s.options.Log,
	})
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	s.http = &http.Server{Handler: handler, ReadHeaderTimeout: headerWithin}
	go func() { s.ended <- s.http.Serve(listener) }()
	return s.background()
}

// finishErasures erases whom the log calls erased and a stop in between left.
func (s *server) finishErasures(ctx context.Context) error {
	club := s.options.Club.ID
	snapshot, err := s.clubs.At(ctx, store.ClubStream(club), 0)
	if err != nil {
		return err
	}
	people, err := s.store.AllPeople(ctx, club)
	if err != nil {
		return err
	}
	for _, p := range people {
		for erased, atUS := range snapshot.State.Erased {
			if string(erased) == p.ID {
				if err := s.store.Erase(ctx, club, p.ID, atUS); err != nil {
					return err
				}
			}
		}
	}
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
		go follow(ctx, notices, followEvery)
	}
	go s.sweep(ctx)
	return nil
}

func (s *server) sweep(ctx context.Context) {
	tick := time.NewTicker(sweepEvery)
	defer tick.Stop()
	for {
		if err := s.intake.Sweep(ctx, s.options.Club.ID); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("runs wait to be recorded; trying again", "error", err)
		}
		if err := s.ratings.Sweep(ctx, s.options.Club.ID); err != nil && ctx.Err() == nil {
			s.options.Log.Warn("published results wait to be rated; trying again", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// handler puts the API, the live feed and the pages together.
func (s *server) handler(o rest.Options) (http.Handler, error) {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	if err := rest.Register(e, o); err != nil {
		return nil, err
	}
	e.GET("/api/v1/meets/:meet/live", func(c echo.Context) error {
		return liveError(s.hub.ServeMeet(c.Response(), c.Request(), rest.ClubOf(c.Request().Context(), o), c.Param("meet")))
	}, rest.Identify(o))
	e.GET("/api/v1/practice/live", func(c echo.Context) error {
		return liveError(s.hub.ServePractice(c.Response(), c.Request(), rest.ClubOf(c.Request().Context(), o)))
	}, rest.Identify(o))
	files := echo.WrapHandler(pageServer(web.Pages()))
	pages := func(c echo.Context) error {
		if strings.HasPrefix(c.Request().URL.Path, "/api/") {
			return rest.Refuse(http.StatusNotFound, "no-page") // an address of the API, not of a face
		}
		return files(c)
	}
	for _, path := range []string{"/", "/*"} { // the API's group would answer "/" with its own no
		e.GET(path, pages)
		e.HEAD(path, pages)
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

// pageServer serves the built pages. An address without a file is a page of one
// of the three faces, chosen by its first part.
func pageServer(pages fs.FS) http.Handler {
	files := http.FileServerFS(pages)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Content-Security-Policy", "default-src 'self'; img-src 'self' data:; style-src 'self' 'unsafe-inline'; connect-src 'self' ws: wss:; frame-ancestors 'none'")
		path := strings.TrimPrefix(r.URL.Path, "/")
		if f, err := fs.Stat(pages, path); err == nil && !f.IsDir() {
			if strings.HasPrefix(path, "assets/") {
				h.Set("Cache-Control", "public, max-age=31536000, immutable") // their names hold a hash
			}
			if strings.HasSuffix(path, ".webmanifest") {
				h.Set("Content-Type", "application/manifest+json")
			}
			files.ServeHTTP(w, r)
			return
		}
		h.Set("Cache-Control", "no-cache")
		for _, page := range []string{face(path), "placeholder.html"} {
			if _, err := fs.Stat(pages, page); err == nil {
				http.ServeFileFS(w, r, pages, page)
				return
			}
		}
		http.NotFound(w, r)
	})
}

// face is the page that an address belongs to.
func face(path string) string {
	switch first, _, _ := strings.Cut(path, "/"); first {
	case "desk", "bench":
		return first + ".html"
	}
	return "screen.html"
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

// Close ends the server: no new requests, those under way finish, the database
// closes last.
func (s *server) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), stopWithin)
	defer cancel()
	s.stop()
	s.hub.Close()
	err := s.http.Shutdown(ctx)
	s.meets.Close()
	s.clubs.Close()
	return errors.Join(err, s.store.Close())
}
