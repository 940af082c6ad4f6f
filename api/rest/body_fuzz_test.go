package rest

import (
	"bytes"
	"errors"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// errDecoded is what the fuzz test's server answers to what could be decoded.
var errDecoded = errors.New("decoded")

// inner finds what only our programs say: types of Go, its errors, places in a text.
var inner = regexp.MustCompile(`\*?\b(uuid\.UUID|json:|json\.Number|float64|int64|offset|[Uu]nmarshal\w*|strconv|syntax|regular expression|schema|struct|goroutine|\.go\b)`)

// FuzzBody sends any body to every operation that takes one, through the contract and
// the decoder: it is decoded or refused as the sender's mistake, in a sentence of bounded
// length without a word of our programs, and nothing breaks.
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
	slices.SortFunc(all, func(a, b operation) int { return strings.Compare(a.path+a.method, b.path+b.method) })
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
		body := bodyOf(c.Request().Context()) // whose names are repeated
		own := !inner.Match(body) && !bytes.Contains(body, []byte(`\u`))
		if says := no.Error(); len(says) > 1000 || own && inner.MatchString(says) {
			status = http.StatusInternalServerError
		}
		_ = c.String(status, no.Error())
	}
	as := func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			note(c).caller = auth.Caller{Role: auth.Organiser}
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
			`{"kind":7,"race_s":1e309,"expires":"soon","number":1.0,"age_from":1e2,"label":["x"]}`, `{"` + strings.Repeat("k", 5000) + `":1}`,
			`{"id":"a","id":"b"}`, `{"reason":{"code":"power","code":"other"}}`, `{"number":100.0,"circumference_mm":94.25}`,
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
