package rest

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// contract holds requests to api/openapi.yaml.
type contract struct {
	router  routers.Router
	options *openapi3filter.Options
	// chunks leave the numbers to their own decoder, at a tenth of the cost.
	chunks *openapi3filter.Options
}

// orderIDs has the contract know a UUID, which is otherwise left to the generated code.
var orderIDs = sync.OnceFunc(func() {
	openapi3.DefineStringFormatValidator("uuid", openapi3.NewCallbackValidator(func(text string) error {
		_, err := uuid.Parse(text)
		return err
	}))
})

func readContract() (*contract, error) {
	orderIDs()
	spec, err := gen.GetSpec()
	if err != nil {
		return nil, fmt.Errorf("reading the contract: %w", err)
	}
	spec.Servers = nil // any host may serve it
	// Who may do what is the table of roles, see allowed: to look for nothing at each request takes a third of its check.
	spec.Security = nil
	for _, path := range spec.Paths.Map() {
		for _, operation := range path.Operations() {
			operation.Security = nil
		}
	}
	router, err := legacy.NewRouter(spec)
	if err != nil {
		return nil, fmt.Errorf("routing the contract: %w", err)
	}
	k := &contract{router: router, options: &openapi3filter.Options{}}
	chunks := *k.options
	chunks.ExcludeRequestBody = true
	k.chunks = &chunks
	return k, nil
}

// admit finds the operation and refuses callers whose role may not do it. What
// they send is not looked at: neither read nor checked.
func (k *contract) admit(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		route, params, err := k.router.FindRoute(r)
		if err != nil {
			return unreadIfLarge(c, k.noRoute(r))
		}
		name := route.Operation.OperationID
		if err := allowed(Caller(r.Context()), strings.ToUpper(name[:1])+name[1:]); err != nil {
			return unreadIfLarge(c, err)
		}
		if err := meetAllowed(Caller(r.Context()), params["meet"]); err != nil && unsafe(r.Method) {
			return unreadIfLarge(c, err)
		}
		a := note(c)
		a.route, a.params = route, params
		return next(c)
	}
}

// validate holds parameters, headers and body to the contract.
func (k *contract) validate(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		at := askedOf(r.Context())
		in := &openapi3filter.RequestValidationInput{Request: r, PathParams: at.params, Route: at.route, Options: k.options}
		if strings.HasSuffix(at.route.Path, "/chunks") {
			in.Options = k.chunks
		} else if len(at.body) > 0 {
			if err := wholeJSON(at.body); err != nil {
				return err
			}
		}
		if err := openapi3filter.ValidateRequest(r.Context(), in); err != nil {
			return err
		}
		return next(c)
	}
}

// wholeJSON refuses half a document, something behind it, and one that says a name twice:
// each reader would take another of the two.
func wholeJSON(body []byte) error {
	if !json.Valid(body) {
		return refusal.New("bad-json")
	}
	var twice *wire.NameError
	if errors.As(wire.Names(body, func(string) error { return nil }), &twice) {
		return refusal.New("json-twice", "name", wire.Short(twice.Path))
	}
	return nil
}

// noRoute tells an unknown address from a method that the address does not take.
func (k *contract) noRoute(r *http.Request) error {
	for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodDelete} {
		other := r.Clone(r.Context())
		other.Method = method
		if _, _, err := k.router.FindRoute(other); err == nil {
			return refusal.New("no-method")
		}
	}
	return refusal.New("no-page")
}
