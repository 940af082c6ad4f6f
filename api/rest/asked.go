package rest

import (
	"context"
	"net/http"

	"github.com/getkin/kin-openapi/routers"
	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
)

// asked is what is known of a request when its handler gets it: each middleware on the way
// adds its part, and nothing is changed afterwards. It is one record of the context and not a
// value for each, because each value copies the request.
type asked struct {
	caller auth.Caller
	secure bool // over TLS, here or at a proxy in front
	// line is the method and the path, as they are part of what makes two orders equal.
	line      string
	answer    http.Header // of the answer
	withdraws bool        // the request takes its order back
	// packed says that a ready answer is sent as it was packed: its caller unpacks gzip, and
	// nothing packs it once more on its way.
	packed  bool
	address string // of the network, as far as it is known
	route   *routers.Route
	params  map[string]string // of the route
	body    []byte            // as it came
}

type askedKey struct{}

// askedOf is what is known of a request, by its context.
func askedOf(ctx context.Context) *asked {
	if a, known := ctx.Value(askedKey{}).(*asked); known {
		return a
	}
	return &asked{caller: auth.Caller{Role: auth.Public}, answer: http.Header{}}
}

// note is the record of a request to which a middleware adds its part. Routes that are not in
// the contract begin theirs late.
func note(c echo.Context) *asked {
	r := c.Request()
	if a, known := r.Context().Value(askedKey{}).(*asked); known {
		return a
	}
	a := askedOf(r.Context())
	c.SetRequest(r.WithContext(context.WithValue(r.Context(), askedKey{}, a)))
	return a
}
