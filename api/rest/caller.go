package rest

import (
	"context"
	"errors"
	"net/http"
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/domain/refusal"
)

// cookieNamed is the cookie that holds the secret of a browser's session. https has one of its own,
// which browsers keep to it: with one name for both, a browser that was signed in over
// https would silently refuse the cookie of http.
//
// A club that shares a host with others has a name of its own too: its cookie goes with
// its own path alone, which the prefix of the host's cookie does not allow.
func cookieNamed(secure, shared bool) string {
	switch {
	case secure && shared:
		return "__Secure-benchmeet-club"
	case shared:
		return "benchmeet-club"
	case secure:
		return "__Host-benchmeet"
	}
	return "benchmeet"
}

// cookieAt is the name of the cookie at a place; see cookieNamed.
func cookieAt(r *http.Request, secure bool) string {
	return cookieNamed(secure, placeOf(r.Context()).Base != "")
}

// sessionPath is where a browser signs in and out: with an old cookie too, for it
// cannot remove one by itself.
const sessionPath = "/api/v1/session"

// signsIn says whether a browser signs in or out there.
func signsIn(path string) bool { return path == sessionPath || path == sessionPath+"/account" }

// Caller is who makes the request; the public where nobody signed in.
func Caller(ctx context.Context) auth.Caller { return askedOf(ctx).caller }

// identify finds the caller by bearer header or cookie. A token that opens
// nothing is refused even where the public may read, so that a phone notices.
func (s door) identify(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		secret, fromCookie := secretOf(r, c.Scheme() == "https")
		if secret == "" || !fromCookie && r.URL.Path == sessionPath && r.Method == http.MethodPost {
			return next(c) // who signs in is known by the token in the body
		}
		if fromCookie && unsafe(r.Method) && !sameOrigin(r) {
			return refusal.New("other-origin")
		}
		caller, err := s.who(r, secret, fromCookie)
		if err == nil {
			err = s.belongs(r.Context(), caller, fromCookie)
		}
		if err != nil {
			if fromCookie && (!unsafe(r.Method) || signsIn(r.URL.Path)) {
				return next(c) // an old cookie reads as the public does, and may be replaced
			}
			if errors.Is(err, errElsewhere) {
				return unreadIfLarge(c, err)
			}
			if !errors.Is(err, auth.ErrBadToken) || fromCookie {
				return err
			}
			if address := s.pace.address(r); s.pace.takes("a "+address, strangerRate, strangerBurst) {
				return unreadIfLarge(c, s.pace.failed(address, err))
			}
			return unreadIfLarge(c, refusal.New("many-requests"))
		}
		note(c).caller = caller
		return next(c)
	}
}

// who finds whose a secret is. A cookie holds a session's, a header a token itself.
// Who asks with a token whose it is does not use it up.
func (s door) who(r *http.Request, secret string, fromCookie bool) (auth.Caller, error) {
	switch {
	case fromCookie:
		return s.tokens.Browser(r.Context(), secret)
	case r.URL.Path == sessionPath:
		return s.tokens.Whose(r.Context(), secret)
	}
	return s.tokens.Caller(r.Context(), secret)
}

func secretOf(r *http.Request, secure bool) (secret string, fromCookie bool) {
	if header := r.Header.Get("Authorization"); header != "" {
		if secret, is := strings.CutPrefix(header, "Bearer "); is {
			return secret, false
		}
		return "?", false // another scheme opens nothing, and must not read as nobody
	}
	if cookie, err := r.Cookie(cookieAt(r, secure)); err == nil {
		return cookie.Value, true
	}
	return "", false
}

// sameOrigin says whether a browser's request comes from a page of this server.
// Clients that are no browsers send no Origin and no cookie.
func sameOrigin(r *http.Request) bool {
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && u.Host == r.Host
}

// there refuses addresses of clubs that are not there.
func there(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if p := placeOf(c.Request().Context()); p.Club == "" && !p.Root {
			return unreadIfLarge(c, refusal.New("no-club"))
		}
		return next(c)
	}
}
