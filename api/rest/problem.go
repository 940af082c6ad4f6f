package rest

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// The statuses of refusals, by code. Codes that stand in neither list are 409:
// the order does not fit the state of the day. A test holds the lists to codes
// that exist.
var (
	missing = []refusal.Code{ // 404
		"not-planned", "no-meet", "no-division", "no-bench", "no-entry", "no-heat", "no-run", "no-protest", "no-car",
		"no-trace", "no-token", "no-pack",
	}
	unfit = []refusal.Code{ // 422: never possible, whatever the state
		"bad-id", "plan-name", "plan-date", "plan-hour", "plan-hours", "rules-range", "rules-word", "incident-twice", "stage-late",
		"division-name", "division-ages", "division-class", "division-lengths", "division-stages",
		"stage-kind", "stage-race", "stage-lanes", "stage-entries",
		"stage-heats", "knockout-legs", "stage-lane-design", "stage-place-points", "stage-place-tie-break",
		"knockout-lanes", "knockout-rounds", "timed-rounds", "timed-rule", "timed-third",
		"stage-pairs", "stage-setting", "stage-groups", "stage-cycles", "stage-points", "stage-tie-break",
		"bench-settings", "benches-asked", "bench-twice", "start-number", "entry-team",
		"stage-seeding", "stage-seeds", "seed-method", "seed-twice", "merge-with", "merge-twice", "hand-distance", "reason-code",
		"rerun-counts", "status-word", "penalty-range", "club-name", "practice-time", "car-number", "car-wheel",
		"ruling-field", "entrant-or-person",

		// Benches compared.
		"reference-plan", "reference-time", "policy-word", "study-benches", "study-shape", "study-empty", "factor-range",
		"window-order", "windows-apart", "battery-class", "battery-cells", "items-many", "item-order", "item-value", "item-missing",
		"reading-range", "two-loads", "two-loads-rise", "instrument", "inspect-fix", "inspect-mark",
		"packs-count", "pack-twice", "pack-set-size", "deal-heats",
	}
	statuses = statusTable()
)

func statusTable() map[refusal.Code]int {
	table := map[refusal.Code]int{}
	for _, code := range missing {
		table[code] = http.StatusNotFound
	}
	for _, code := range unfit {
		table[code] = http.StatusUnprocessableEntity
	}
	return table
}

// coded is an error of this package with the status it has.
type coded struct {
	status  int
	refusal *refusal.Refusal
}

func (c *coded) Error() string { return c.refusal.Error() }

// bad makes an error with a status; its sentence stands in the catalogue of
// domain/refusal.
func bad(status int, code refusal.Code, pairs ...any) error {
	return &coded{status, refusal.New(code, pairs...)}
}

func notFound(code refusal.Code, pairs ...any) error {
	return bad(http.StatusNotFound, code, pairs...)
}

// problem writes any error as problem+json. What has no code is "internal" for
// the caller and in full for the server's own log.
//
// Where part of the answer is sent already, the connection is cut: what ends
// properly would look whole.
func (s door) problem(err error, c echo.Context) {
	if c.Response().Committed {
		if c.Request().Context().Err() == nil {
			s.log.Error("an answer could not be sent to its end", "method", c.Request().Method, "path", c.Request().URL.Path, "error", err)
		}
		panic(http.ErrAbortHandler)
	}
	status, no := explain(err)
	if status == http.StatusInternalServerError {
		s.log.Error("request failed", "method", c.Request().Method, "path", c.Request().URL.Path, "error", err)
	}
	p := gen.Problem{
		Type: "about:blank", Title: http.StatusText(status), Status: status,
		Code: string(no.Code), Detail: no.Error(),
	}
	if len(no.Args) > 0 {
		args := map[string]string{}
		for _, a := range no.Args {
			args[a.Name] = a.Value
		}
		p.Args = &args
	}
	body, err := json.Marshal(p)
	if err != nil {
		body = []byte(`{}`)
	}
	if status == http.StatusServiceUnavailable {
		c.Response().Header().Set("Retry-After", "1")
	}
	if status == http.StatusUnauthorized {
		c.Response().Header().Set("WWW-Authenticate", `Bearer realm="benchmeet"`)
	}
	if c.Request().Method == http.MethodHead {
		err = c.NoContent(status)
	} else {
		err = c.Blob(status, "application/problem+json", body)
	}
	if err != nil {
		s.log.Debug("the caller went away", "error", err)
	}
}

// explain finds the status and the sentence of an error.
func explain(err error) (int, *refusal.Refusal) {
	var mine *coded
	var unvalid *openapi3filter.RequestError
	var echoed *echo.HTTPError
	var behind *ledger.BehindError
	switch {
	case errors.As(err, &mine):
		return mine.status, mine.refusal
	case errors.Is(err, ledger.ErrOtherContent):
		return http.StatusConflict, refusal.New("order-id-used")
	case errors.Is(err, ledger.ErrWithdrawn):
		return http.StatusConflict, refusal.New("order-withdrawn")
	case errors.Is(err, auth.ErrBadToken):
		return http.StatusUnauthorized, refusal.New("bad-token")
	case errors.Is(err, auth.ErrBadRequest):
		return http.StatusUnprocessableEntity, refusal.New("bad-token-wish", "why", err)
	case errors.As(err, &behind) && behind.Never:
		return http.StatusConflict, refusal.New("log-behind", "asked", behind.Asked, "now", behind.Now)
	case errors.As(err, &behind):
		return http.StatusServiceUnavailable, refusal.New("log-behind", "asked", behind.Asked, "now", behind.Now)
	case errors.Is(err, ledger.ErrDamaged):
		return http.StatusInternalServerError, refusal.New("log-damaged")
	case errors.Is(err, ledger.ErrClosed):
		return http.StatusServiceUnavailable, refusal.New("server-stops")
	case errors.Is(err, context.DeadlineExceeded):
		return http.StatusServiceUnavailable, refusal.New("too-slow")
	case errors.Is(err, context.Canceled): // as a rule the caller is gone and nobody reads it
		return http.StatusServiceUnavailable, refusal.New("given-up")
	case errors.Is(err, store.ErrConflict):
		return http.StatusConflict, refusal.New("person-erased")
	case errors.As(err, &unvalid):
		return http.StatusBadRequest, refusal.New("bad-request", "why", why(unvalid))
	case errors.As(err, &echoed):
		return echoedStatus(echoed)
	}
	if no, is := refusal.As(err); is {
		if status, listed := statuses[no.Code]; listed {
			return status, no
		}
		return http.StatusConflict, no
	}
	return http.StatusInternalServerError, refusal.New("internal")
}

func echoedStatus(e *echo.HTTPError) (int, *refusal.Refusal) {
	switch e.Code {
	case http.StatusNotFound:
		return e.Code, refusal.New("no-page")
	case http.StatusMethodNotAllowed:
		return e.Code, refusal.New("no-method")
	case http.StatusRequestEntityTooLarge:
		return e.Code, refusal.New("body-too-large", "limit", bodyLimit>>10)
	case http.StatusUnsupportedMediaType:
		return e.Code, refusal.New("media-type")
	}
	if e.Code >= 500 {
		return e.Code, refusal.New("internal")
	}
	return http.StatusBadRequest, refusal.New("bad-request", "why", e.Message)
}

// why says in one sentence what the contract does not allow and where.
func why(e *openapi3filter.RequestError) string {
	where := ""
	if e.Parameter != nil {
		where = e.Parameter.In + " parameter " + e.Parameter.Name + ": "
	}
	var schema *openapi3.SchemaError
	if errors.As(e.Err, &schema) {
		if path := strings.Join(schema.JSONPointer(), "/"); path != "" {
			where += path + ": "
		}
		return where + schema.Reason
	}
	if e.Err != nil {
		return where + e.Err.Error()
	}
	return where + e.Reason
}
