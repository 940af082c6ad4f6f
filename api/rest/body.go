package rest

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/domain/refusal"
)

// How much of a body is read, and how long. A full chunk of stamps fits three
// times; a stranger has nothing to send but a token. A phone in a bad network may
// send slowly, as long as it sends; for strangers the server's own time for a
// whole request holds.
const (
	bodyLimit     = 512 << 10
	strangerLimit = 4 << 10
	silentFor     = 15 * time.Second
	bodyWithin    = 2 * time.Minute
)

// prepare notes of a request what its handling needs.
func prepare(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r, a := c.Request(), note(c)
		a.answer = c.Response().Header()
		noStore(a.answer)
		a.answer.Set("X-Content-Type-Options", "nosniff")
		nameOrder(r, a.answer)
		a.line = r.Method + " " + r.URL.Path
		a.withdraws = r.Header.Get(withdrawHeader) == "true"
		a.packed = isReady(c) && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip")
		a.secure = c.Scheme() == "https"
		return next(c)
	}
}

// readBody reads a request's body once, within the limits of its caller, and keeps
// it: the validator, the decoder and the content hash all need it.
func readBody(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		if r.Body == nil || r.Body == http.NoBody {
			return next(c)
		}
		limit, from := int64(bodyLimit), io.ReadCloser(
			patient{r.Body, http.NewResponseController(c.Response().Writer), time.Now().Add(bodyWithin)},
		)
		if Caller(r.Context()).Role == auth.Public {
			limit, from = strangerLimit, r.Body
		}
		if r.ContentLength > limit {
			return unread(c, refusal.New("body-too-large", "limit", limit>>10))
		}
		body, err := io.ReadAll(http.MaxBytesReader(c.Response(), from, limit))
		var tooLarge *http.MaxBytesError
		switch {
		case errors.As(err, &tooLarge):
			return unread(c, refusal.New("body-too-large", "limit", limit>>10))
		case errors.Is(err, os.ErrDeadlineExceeded):
			return unread(c, refusal.New("body-slow"))
		case err != nil:
			return unread(c, refusal.New("body-unreadable"))
		case !utf8.Valid(body) || escapesZero(body):
			// One of the databases cannot keep it; both refuse it alike.
			return refusal.New("bad-text")
		}
		r.Body = io.NopCloser(bytes.NewReader(body))
		note(c).body = body
		return next(c)
	}
}

// escapesZero says whether a JSON text holds the zero character, which can stand there
// only escaped. Behind a backslash that is escaped itself, "u0000" is plain text.
func escapesZero(body []byte) bool {
	for {
		at := bytes.IndexByte(body, '\\')
		if at < 0 {
			return false
		}
		if bytes.HasPrefix(body[at:], []byte(`\u0000`)) {
			return true
		}
		body = body[min(len(body), at+2):]
	}
}

// patient reads from one who may be slow but not silent, up to a last moment.
type patient struct {
	io.ReadCloser
	connection *http.ResponseController
	until      time.Time
}

// Read gives the next part its time.
func (p patient) Read(into []byte) (int, error) {
	deadline := time.Now().Add(silentFor)
	if deadline.After(p.until) {
		deadline = p.until
	}
	_ = p.connection.SetReadDeadline(deadline) // without one the server's own holds
	return p.ReadCloser.Read(into)
}

// unread refuses a request whose body was not read to its end. The connection ends
// with the answer: the server would wait for the rest before it answers.
func unread(c echo.Context, err error) error {
	c.Response().Header().Set("Connection", "close")
	return err
}

// answerHeader is the header of the answer to a request.
func answerHeader(ctx context.Context) http.Header { return askedOf(ctx).answer }

// bodyOf is the body as it came.
func bodyOf(ctx context.Context) []byte { return askedOf(ctx).body }

// secure says whether the request came over TLS, here or at a proxy in front.
func secure(ctx context.Context) bool { return askedOf(ctx).secure }

// noStore keeps answers out of caches: they are about this moment.
func noStore(h http.Header) { h.Set("Cache-Control", "no-store") }

// unreadIfLarge refuses before a body is read. A small one is taken off the
// connection, which then serves the next request.
func unreadIfLarge(c echo.Context, err error) error {
	if length := c.Request().ContentLength; length < 0 || length > strangerLimit {
		return unread(c, err)
	}
	return err
}
