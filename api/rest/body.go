package rest

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net/http"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
)

type (
	bodyKey   struct{}
	secureKey struct{}
	answerKey struct{}
)

// readBody reads a request's body once, within the limit, and keeps it: the
// validator, the decoder and the content hash all need it.
func readBody(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		noStore(c.Response().Header())
		nameOrder(r, c.Response().Header())
		line := r.Method + " " + r.URL.Path
		ctx := context.WithValue(r.Context(), contentKey{}, line)
		ctx = context.WithValue(ctx, answerKey{}, c.Response().Header())
		ctx = context.WithValue(ctx, withdrawKey{}, r.Header.Get(withdrawHeader) == "true")
		r = r.WithContext(context.WithValue(ctx, secureKey{}, c.Scheme() == "https"))
		c.SetRequest(r)
		if r.Body == nil || r.Body == http.NoBody {
			return next(c)
		}
		body, err := io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, bodyLimit))
		var tooLarge *http.MaxBytesError
		switch {
		case errors.As(err, &tooLarge):
			return bad(http.StatusRequestEntityTooLarge, "body-too-large", "limit", bodyLimit>>10)
		case err != nil:
			return bad(http.StatusBadRequest, "body-unreadable")
		case !utf8.Valid(body) || bytes.Contains(body, []byte(`\u0000`)):
			// One of the databases cannot keep it; both refuse it alike.
			return bad(http.StatusBadRequest, "bad-text")
		}
		r.Body = io.NopCloser(bytes.NewReader(body))
		c.SetRequest(r.WithContext(context.WithValue(r.Context(), bodyKey{}, body)))
		return next(c)
	}
}

// orderKeyHeader is the header in which an order carries its id.
const orderKeyHeader = "Idempotency-Key"

// nameOrder has every answer to an order, a refusal too, name the order: so its
// sender tells it from the answer of whatever else stands in between, and from
// the answer to another order.
func nameOrder(r *http.Request, answer http.Header) {
	if !unsafe(r.Method) {
		return
	}
	if key, err := uuid.Parse(r.Header.Get(orderKeyHeader)); err == nil {
		answer.Set(orderKeyHeader, key.String())
	}
}

// answerHeader is the header of the answer to a request.
func answerHeader(ctx context.Context) http.Header {
	if h, there := ctx.Value(answerKey{}).(http.Header); there {
		return h
	}
	return http.Header{}
}

// bodyOf is the body as it came.
func bodyOf(ctx context.Context) []byte {
	body, _ := ctx.Value(bodyKey{}).([]byte)
	return body
}

// secure says whether the request came over TLS, here or at a proxy in front.
func secure(ctx context.Context) bool {
	is, _ := ctx.Value(secureKey{}).(bool)
	return is
}
