package rest

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"testing"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// errDecoded is what the fuzz test's server answers to what could be decoded.
var errDecoded = errors.New("decoded")

// FuzzBody sends any body to every operation that takes one, through the contract and
// the decoder: it is decoded or refused as the sender's mistake, and nothing breaks.
func FuzzBody(f *testing.F) {
	spec, err := gen.GetSpec()
	if err != nil {
		f.Fatal(err)
	}
	type operation struct{ method, path string }
	var all []operation
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			if op.RequestBody != nil {
				// Any word stands for a parameter, for no state is asked.
				all = append(all, operation{method, regexp.MustCompile(`\{[a-z]+\}`).ReplaceAllString(path, "a-1")})
			}
		}
	}
	slices.SortFunc(all, func(a, b operation) int { return bytes.Compare([]byte(a.path+a.method), []byte(b.path+b.method)) })
	contract, err := readContract()
	if err != nil {
		f.Fatal(err)
	}
	e := echo.New()
	e.HTTPErrorHandler = func(err error, c echo.Context) {
		status, no := explain(err)
		if errors.Is(err, errDecoded) {
			status = http.StatusTeapot
		}
		_ = c.String(status, string(no.Code))
	}
	as := func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			r := c.Request()
			c.SetRequest(r.WithContext(context.WithValue(r.Context(), callerKey{}, auth.Caller{Role: auth.Organiser})))
			return next(c)
		}
	}
	stop := func(gen.StrictHandlerFunc, string) gen.StrictHandlerFunc {
		return func(echo.Context, any) (any, error) { return nil, errDecoded }
	}
	gen.RegisterHandlers(
		e.Group("", prepare, as, contract.admit, readBody, contract.validate),
		gen.NewStrictHandler(Server{}, []gen.StrictMiddlewareFunc{stop}),
	)
	for i := range all {
		for _, seed := range []string{
			`{}`, `[]`, `null`, `{"id":"a","kind":"void","heat":"a-1.1.1","reason":{"code":"power"}}`, `{"race_s":5,"car_number":1e2}`,
			`{"id":"spring","plan":{"name":"x","date":"2027-04-17"},"rules":{"protest_s":300}}`, `{"a":{"a":{"a":[[[[0]]]]}}}`, "\x00\xff",
		} {
			f.Add(uint8(i), []byte(seed))
		}
	}
	f.Fuzz(func(t *testing.T, at uint8, body []byte) {
		op := all[int(at)%len(all)]
		r := httptest.NewRequest(op.method, op.path, bytes.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set(orderKeyHeader, "01890000-0000-7000-8000-000000000001")
		out := httptest.NewRecorder()
		e.ServeHTTP(out, r)
		switch status := out.Code; {
		case status == http.StatusTeapot:
		case status < 400 || status >= 500:
			t.Errorf("%s %s %q: %d %s", op.method, op.path, body, status, out.Body)
		}
	})
}
