package rest

import (
	"log/slog"
	"net/http"
	"net/netip"
	"sync"

	"golang.org/x/time/rate"
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

// newPace counts callers by what asker says of a request, or by its address.
func newPace(asker func(*http.Request) string, log *slog.Logger) *pace {
	if asker == nil {
		asker = func(r *http.Request) string { return r.RemoteAddr }
	}
	return &pace{asker: asker, log: log, of: map[string]*rate.Limiter{}}
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
