package rest

import (
	"context"
	"net/netip"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/domain/refusal"
)

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
		note(c).address = address
		return next(c)
	}
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
	return p.failed(askedOf(ctx).address, err)
}
