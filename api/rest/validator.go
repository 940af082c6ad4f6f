package rest

import (
	"fmt"
	"net/http"
	"strings"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"
	"github.com/labstack/echo/v4"

	"benchmeet/api/gen"
)

// newValidator makes the middleware that holds each request to the contract:
// parameters, headers and body. Who may do what is not its business.
func newValidator() (echo.MiddlewareFunc, error) {
	spec, err := gen.GetSpec()
	if err != nil {
		return nil, fmt.Errorf("reading the contract: %w", err)
	}
	spec.Servers = nil // any host may serve it
	router, err := legacy.NewRouter(spec)
	if err != nil {
		return nil, fmt.Errorf("routing the contract: %w", err)
	}
	options := &openapi3filter.Options{
		AuthenticationFunc: openapi3filter.NoopAuthenticationFunc,
		MultiError:         false,
	}
	// A chunk's numbers are checked by its own decoder, at a tenth of the cost.
	chunkOptions := *options
	chunkOptions.ExcludeRequestBody = true
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			route, params, err := router.FindRoute(c.Request())
			if err != nil {
				return noRoute(router, c.Request())
			}
			in := &openapi3filter.RequestValidationInput{
				Request: c.Request(), PathParams: params, Route: route, Options: options,
			}
			if strings.HasSuffix(route.Path, "/chunks") {
				in.Options = &chunkOptions
			}
			if err := openapi3filter.ValidateRequest(c.Request().Context(), in); err != nil {
				return err
			}
			return next(c)
		}
	}, nil
}

// noRoute tells an unknown address from a method that the address does not take.
func noRoute(router routers.Router, r *http.Request) error {
	for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
		other := r.Clone(r.Context())
		other.Method = method
		if _, _, err := router.FindRoute(other); err == nil {
			return bad(http.StatusMethodNotAllowed, "no-method")
		}
	}
	return bad(http.StatusNotFound, "no-page")
}
