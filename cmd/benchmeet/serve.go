package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"github.com/caarlos0/env/v11"
	"github.com/spf13/cobra"

	"benchmeet/api/auth"
	"benchmeet/api/hosted"
	"benchmeet/api/store"
)

// serveSettings come from flags, or from the environment where a flag is not
// given: a service unit sets the environment.
type serveSettings struct {
	Listen   string `env:"BENCHMEET_LISTEN" envDefault:":8080"`
	Data     string `env:"BENCHMEET_DATA" envDefault:"benchmeet-data"`
	Database string `env:"BENCHMEET_DATABASE"`
	Club     string `env:"BENCHMEET_CLUB" envDefault:"Our club"`
	// Proxies in front of the server, which are believed when they say for whom
	// they ask.
	Proxies []string `env:"BENCHMEET_PROXIES"`
	TLS     tlsSettings
	// LogRequests logs every request.
	LogRequests bool `env:"BENCHMEET_LOG_REQUESTS"`
	// Listeners bounds the connections of the live feed; 0 leaves it to the files that
	// the system lets the process open.
	Listeners int `env:"BENCHMEET_LISTENERS"`
	// Feed is the broker by which feed nodes take the live feed.
	Feed string `env:"BENCHMEET_FEED"`
}

const serveHelp = `
Starts the server. Without --database it keeps everything in one SQLite file in
the folder --data; with --database postgres://... several servers can share one
PostgreSQL database.

At the first start it prints the organiser's sign-in: a link that is shown only
then, and that signs in one browser. More browsers get keys of their own on the
desk. --new-sign-in makes another link; whoever signed in with one that an
earlier start printed is signed out. A sign-in is good for 30 days.

Behind a proxy, name it with --proxy: the places on the live feed are shared out
by network address, and without it all phones would seem to have the proxy's.

The live feed takes as many screens and phones as the system lets the server open
files for, a quarter of them kept for everything else (ulimit -n, or LimitNOFILE of a
service), and no more than 50,000; --listeners sets another number. One takes some
10 kB of memory.

Where more screens and phones listen than the servers of one database can write to,
feed nodes take the live feed from a broker that speaks NATS. The servers of the
database get its address with --feed nats://host:4222, and go on without it while it is
away. "benchmeet serve --feed nats://host:4222", without --database and --data, is a
feed node: it serves the live feed alone, at the same addresses, to everybody as to the
public; it keeps nothing, takes no orders and knows no keys. A proxy in front sends it
the requests for /live that have no key and no cookie. Whoever may write to the broker
may write to the screens: let nobody but these servers reach it, by a name and password
in the address (BENCHMEET_FEED keeps them off the command line) or by its network.

On plain http everybody on the same network can read keys and names. --tls local
serves https beside it, with certificates of an authority of its own that this
server makes (in the folder tls of --data, for its own names and addresses alone,
90 days, renewed before they end); a phone trusts it once, on the page /trust, which
says how to take that back too. --tls-cert and --tls-key take certificates of your
own; they are read again when the files change, and on SIGHUP. http stays open: it
is another address, and a phone that has kept orders under it still sends them.

/healthz answers while the program runs: who gets no answer starts it again. /readyz
answers 200 while its database answers and all its work goes on, else 503 with the
reason: send nobody here, and wait. /metrics is for Prometheus, and for this machine
or the organiser alone.

Safety: rollers spin fast and cars can be thrown. Keep hair, sleeves and
lanyards away, wear eye protection at the benches, stop the rollers before
touching, set hot or leaking cells aside and never charge cells that are not
made for it. The venue's own rules and risk assessment come first.`

func newServeCommand() *cobra.Command {
	var settings serveSettings
	var newSignIn, example bool
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Start the server for the desk, the benches and the screens",
		Long:  strings.TrimSpace(serveHelp),
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if settings.isFeedNode(cmd.Flags()) {
				return serveFeed(cmd, settings)
			}
			return serve(cmd, settings, newSignIn, example)
		},
	}
	if err := env.Parse(&settings); err != nil {
		cmd.RunE = func(*cobra.Command, []string) error { return err }
	}
	f := cmd.Flags()
	f.StringVar(&settings.Listen, "listen", settings.Listen, "host:port to listen on")
	f.StringVar(&settings.Data, "data", settings.Data, "folder of the SQLite file")
	f.StringVar(&settings.Database, "database", settings.Database, "postgres://... instead of SQLite")
	f.StringVar(&settings.Club, "club", settings.Club, "name of the club")
	settings.TLS.flags(f)
	f.BoolVar(&settings.LogRequests, "log-requests", settings.LogRequests, "log every request, not only those that were refused or failed")
	f.IntVar(&settings.Listeners, "listeners", settings.Listeners, "how many may listen to the live feed; 0 goes by the limit of open files")
	f.StringVar(&settings.Feed, "feed", settings.Feed, "nats://... of a broker: for feed nodes, or alone as one")
	f.StringSliceVar(&settings.Proxies, "proxy", settings.Proxies, "address or block of a proxy in front, whose X-Forwarded-For is believed")
	f.BoolVar(&newSignIn, "new-sign-in", false, "make a new sign-in for the organiser")
	f.BoolVar(&example, "example", false, "play an example meet on simulated benches: its morning at once, the rest in real time")
	return cmd
}

// machineClock is the clock of this machine; nil is the real one. Tests of the whole program
// step it.
var machineClock func() time.Time

// homeClub is the club of a server that has one.
const homeClub = "home"

func serve(cmd *cobra.Command, o serveSettings, newSignIn, example bool) error {
	ctx := cmd.Context()
	log := slog.New(slog.NewTextHandler(cmd.ErrOrStderr(), nil))
	proxies, err := readProxies(o.Proxies)
	if err != nil {
		return err
	}
	if err := o.TLS.check(); err != nil {
		return err
	}
	if o.Listeners, err = mostListeners(o.Listeners); err != nil {
		return err
	}
	spareMemory()
	options := serverOptions{
		Listen: o.Listen, Data: o.Data, Database: o.Database, Scale: 1, Clock: machineClock,
		Club: store.Club{ID: homeClub, Name: o.Club}, Proxies: proxies, TLS: o.TLS,
		LogRequests: o.LogRequests, Listeners: o.Listeners, Feed: o.Feed, Log: log,
		Models: knownModels, Beat: beatEvery,
	}
	if example {
		if err := raceExampleMorning(ctx, options); err != nil && ctx.Err() == nil {
			log.Error("the morning of the example meet was not raced to its end", "error", err)
		}
	}
	s, err := startServer(ctx, options)
	if err != nil {
		return err
	}
	// Closing waits for what runs beside the requests. Its error is only logged: what was
	// acknowledged was on disk before the answer went out.
	defer func() {
		if err := s.Close(); err != nil {
			log.Error("stopping", "error", err)
		}
	}()
	out := cmd.OutOrStdout()
	fmt.Fprintln(out, "Benchmeet is running. Open one of these in a browser:")
	for _, a := range s.addresses() {
		fmt.Fprintln(out, "  "+a)
	}
	s.sayHowSafe(out)
	if o.Database == "" {
		if err := sayIfOpen(o.Data, out); err != nil {
			log.Warn("the rights of the data folder could not be looked at", "error", err)
		}
	}
	if err := s.sayIfAhead(ctx, out); err != nil {
		log.Warn("the newest event could not be compared with the clock", "error", err)
	}
	secret, made, err := s.signInPatiently(ctx, newSignIn)
	if err != nil {
		return err
	}
	if made {
		fmt.Fprintln(out, "\nOrganiser's sign-in (shown only now, and good for one browser; keep it to yourself):")
		fmt.Fprintln(out, "  "+s.url()+"/desk#token="+secret)
	} else {
		fmt.Fprintln(out, "\nThe organiser's sign-in was shown at the first start; --new-sign-in makes another in its place.")
	}
	// Beside the requests and under the server's own end, so that closing stops it.
	if example {
		s.once("the example", func(ctx context.Context) { s.playExample(ctx, log) })
	}
	select {
	case <-ctx.Done():
		fmt.Fprintln(out, "\nStopping; what was acknowledged is on disk.")
		return nil
	// The server ends by itself only where it can serve no longer.
	case err := <-s.ended:
		if errors.Is(err, http.ErrServerClosed) {
			return nil
		}
		return err
	}
}

// memoryGoal is from where on memory is freed as soon as possible instead of now
// and then, in bytes: a hall's small computer does other things too.
const memoryGoal = 240 << 20

// spareMemory sets the goal, unless whoever runs the server has set one.
func spareMemory() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryGoal)
	}
}

// signIn makes an organiser's token if there is none that is good, or if asked to.
// It takes the place of those that earlier starts made: who asks for another one has
// lost the link, or tries the program out again and again.
func (s *server) signIn(ctx context.Context, another bool) (secret string, made bool, err error) {
	tokens, err := s.store.AllTokens(ctx, s.options.Club.ID)
	if err != nil {
		return "", false, err
	}
	for _, t := range tokens {
		if auth.RoleNamed(t.Role) != auth.Organiser || !auth.Good(t, s.clock.now()) {
			continue
		}
		if !another {
			return "", false, nil
		}
		if t.Label == hosted.SignInLabel {
			if err := s.tokens.Revoke(ctx, t.Club, t.ID); err != nil {
				return "", false, err
			}
		}
	}
	secret, _, err = s.tokens.Make(ctx, auth.Wish{Club: s.options.Club.ID, Role: auth.Organiser, Label: hosted.SignInLabel})
	return secret, true, err
}

// signInPatiently does as signIn, and tries again where the database is away just now:
// the server answers already, and a hall does not lose it for the want of a line.
func (s *server) signInPatiently(ctx context.Context, another bool) (secret string, made bool, err error) {
	for said := false; ; said = true {
		secret, made, err = s.signIn(ctx, another)
		if err == nil {
			return secret, made, nil
		}
		if !said {
			s.options.Log.Warn("the database does not answer; looking for the organiser's sign-in again", "error", err)
		}
		select {
		case <-ctx.Done():
			return "", false, nil
		case <-time.After(time.Second):
		}
	}
}

// version is what the build says of itself.
func version() string {
	info, known := debug.ReadBuildInfo()
	if !known || info.Main.Version == "" {
		return "development"
	}
	return strings.Trim(info.Main.Version, "()")
}
