package rest

import (
	"context"
	"log/slog"
	"net/http"
	"net/netip"
	"sync"

	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"

	"benchmeet/api/auth"
	"benchmeet/domain/refusal"
)

// How many requests are answered: of strangers by their network address, of those
// who are signed in each for itself, so that a hall of phones behind one address
// is not one caller. The live feed has limits of its own.
const (
	strangerRate, strangerBurst = rate.Limit(20), 100
	signedRate, signedBurst     = rate.Limit(50), 300
	failedRate, failedBurst     = rate.Limit(5.0 / 60), 5
	// mostPaced bounds how many callers are remembered. Those that could do
	// anything again are forgotten first, then all.
	mostPaced = 10_000
)

// pace holds callers to their rates.
type pace struct {
	asker func(*http.Request) string
	log   *slog.Logger
	mu    sync.Mutex
	of    map[string]*rate.Limiter
}

func newPace(o Options) *pace {
	asker := o.Asker
	if asker == nil {
		asker = func(r *http.Request) string { return r.RemoteAddr }
	}
	return &pace{asker: asker, log: o.Log, of: map[string]*rate.Limiter{}}
}

// takes says whether somebody may do one more thing.
func (p *pace) takes(who string, limit rate.Limit, burst int) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	of, there := p.of[who]
	if !there {
		if len(p.of) >= mostPaced {
			p.forget()
		}
		of = rate.NewLimiter(limit, burst)
		p.of[who] = of
	}
	return of.Allow()
}

func (p *pace) forget() {
	for who, of := range p.of {
		if of.Tokens() >= float64(of.Burst()) {
			delete(p.of, who)
		}
	}
	if len(p.of) >= mostPaced {
		clear(p.of)
	}
}

type askerKey struct{}

// keep is the middleware that holds requests to their rates, once the caller is known.
// Who is signed in on this machine itself is not held: its rehearsals, and the boxes at it.
func (p *pace) keep(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r, address := c.Request(), p.address(c.Request())
		caller := Caller(r.Context())
		switch at, err := netip.ParseAddr(address); {
		case caller.Role == auth.Public:
			if !p.takes("a "+address, strangerRate, strangerBurst) {
				return unreadIfLarge(c, refusal.New("many-requests"))
			}
		case err == nil && at.IsLoopback():
		case !p.takes("k "+caller.Key, signedRate, signedBurst):
			return unreadIfLarge(c, refusal.New("many-requests"))
		}
		c.SetRequest(r.WithContext(context.WithValue(r.Context(), askerKey{}, address)))
		return next(c)
	}
}

// address is whom a request is counted for: a network of IPv6 is one caller, for it is
// handed out whole.
func (p *pace) address(r *http.Request) string {
	asker := p.asker(r)
	if at, err := netip.ParseAddr(asker); err == nil && at.Is6() && !at.Is4In6() && !at.IsLoopback() {
		if net, err := at.Prefix(64); err == nil {
			return net.String()
		}
	}
	return asker
}

// failed counts and notes a sign-in that failed, and is the answer to it. A key that is
// good is let in all the same: one stale phone must not keep out the hall behind its address.
func (p *pace) failed(address string, err error) error {
	if !p.takes("f "+address, failedRate, failedBurst) {
		return refusal.New("many-sign-ins")
	}
	p.log.Warn("a sign-in failed", "address", address, "code", refused(err).Code)
	return err
}

// failedIn is failed for a handler.
func (p *pace) failedIn(ctx context.Context, err error) error {
	address, _ := ctx.Value(askerKey{}).(string)
	return p.failed(address, err)
}

// retryAfter is when it is worth trying again, in seconds; "" where nobody can say.
func retryAfter(status int, code refusal.Code) string {
	switch {
	case code == "many-sign-ins":
		return "12"
	case status == http.StatusServiceUnavailable, code == "many-requests":
		return "1"
	}
	return ""
}
