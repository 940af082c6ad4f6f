package rest

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"

	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/labstack/echo/v4"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// codesOf are the codes of refusals by the status that tells of them. Codes that stand
// nowhere here are 409: the order does not fit the state of the day. A test holds the
// table to codes that exist.
var codesOf = map[int][]refusal.Code{
	http.StatusBadRequest:   {"bad-request", "body-unreadable", "bad-text", "bad-json", "json-twice", "bad-chunk", "bad-topic", "many-topics"},
	http.StatusUnauthorized: {"sign-in", "bad-token", "link-used", "password-wrong"},
	http.StatusForbidden: {
		"not-allowed", "account-role", "not-your-bench", "not-your-meet", "not-your-club", "clubs-not-yours", "protest-not-yours",
		"run-not-shown", "other-origin",
	},
	http.StatusNotFound: {
		"not-planned", "no-meet", "no-division", "no-bench", "no-entry", "no-heat", "no-run", "no-protest", "no-car",
		"no-practice", "no-practice-run", "no-trace", "no-token", "no-session", "no-person", "no-pack", "no-text", "no-page",
		"no-club", "several-clubs", "feed-only",
	},
	http.StatusMethodNotAllowed:      {"no-method"},
	http.StatusRequestTimeout:        {"body-slow"},
	http.StatusRequestEntityTooLarge: {"body-too-large"},
	http.StatusUnsupportedMediaType:  {"media-type"},
	http.StatusUnprocessableEntity: { // never possible, whatever the state
		"bad-id", "bad-run-id", "plan-name", "plan-date", "plan-hour", "plan-hours", "rules-range", "rules-word", "incident-twice", "stage-late",
		"plan-minutes", "plan-tasks", "plan-task-opens", "plan-task-kind", "plan-task-minutes", "plan-lunch-time", "plan-lunch-window",
		"plan-task-hours", "adults", "cuts-many", "cut-twice", "hold-until",
		"division-name", "division-ages", "division-class", "division-lengths", "division-stages",
		"stage-kind", "stage-race", "stage-lanes", "stage-entries",
		"stage-heats", "knockout-legs", "stage-lane-design", "stage-place-points", "stage-place-tie-break",
		"knockout-lanes", "knockout-rounds", "timed-rounds", "timed-rule", "timed-third",
		"stage-pairs", "stage-setting", "stage-groups", "stage-cycles", "stage-points", "stage-tie-break",
		"bench-settings", "bench-measured", "bench-two-ways",
		"benches-asked", "bench-twice", "start-number", "entry-team", "entries-many", "table-one-source",
		"stage-seeding", "stage-seeds", "seed-method", "seed-twice", "merge-with", "merge-twice", "hand-distance", "reason-code",
		"rerun-counts", "status-word", "penalty-range", "club-name", "club-short", "club-host", "practice-time", "car-number", "car-wheel",
		"ruling-field", "entrant-or-person",

		// Practice.
		"practice-benches", "practice-settings", "guess-range", "drop-word", "setup-range", "setup-teeth", "setup-word",
		"compare-states", "compare-cars", "compare-benches", "compare-plan", "compare-small",

		// Benches compared.
		"reference-plan", "reference-time", "policy-word", "study-benches", "study-shape", "study-empty", "factor-range",
		"window-order", "windows-apart", "battery-class", "battery-cells", "items-many", "item-order", "item-value", "item-missing",
		"reading-range", "two-loads", "two-loads-rise", "instrument", "inspect-fix", "inspect-mark",
		"packs-count", "pack-twice", "pack-set-size", "deal-heats",
		"birth-date", "birth-no-date", "name-blank", "name-odd", "name-long",
		"bad-token-wish", "token-meet", "token-benches", "token-no-benches", "token-end", "token-long",
		"account-name", "password-length",
	},
	http.StatusTooManyRequests:     {"feed-share", "many-requests", "many-sign-ins", "sign-in-wait"},
	http.StatusInternalServerError: {"internal", "log-damaged"},
	http.StatusInsufficientStorage: {"disk-full", "disk-read-only"},
	http.StatusServiceUnavailable: {
		"busy", "erasure-goes-on", "feed-away", "feed-full", "server-stops", "too-slow", "given-up", "passwords-busy", databaseAway,
		"log-later", "server-earlier",
	},
}

var statuses = statusTable()

func statusTable() map[refusal.Code]int {
	table := map[refusal.Code]int{}
	for status, codes := range codesOf {
		for _, code := range codes {
			table[code] = status
		}
	}
	return table
}

// statusOf is the status of a refusal.
func statusOf(code refusal.Code) int {
	if status, listed := statuses[code]; listed {
		return status
	}
	return http.StatusConflict
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
	if (status == http.StatusInsufficientStorage || no.Code == databaseAway) && s.trouble.note(no.Code) {
		s.log.Error("nothing can be kept", "error", err)
	}
	if status == http.StatusInternalServerError {
		s.log.Error("request failed", "method", c.Request().Method, "path", c.Request().URL.Path, "error", err)
	}
	p := gen.Problem{
		Type: "about:blank", Title: http.StatusText(status), Status: status,
		Code: string(no.Code), Detail: no.Error(), Field: wire.Opt(fieldIn(no, err)),
	}
	if len(no.Args) > 0 {
		args := no.Values()
		p.Args = &args
	}
	p.Names = wire.ShowNames(no)
	var stale *savedSinceError
	if errors.As(err, &stale) {
		p.Current = &stale.current
	}
	body, err := json.Marshal(p)
	if err != nil {
		body = []byte(`{}`)
	}
	if after := retryAfter(status, no.Code); after != "" {
		c.Response().Header().Set("Retry-After", after)
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
	var behind *ledger.BehindError
	if errors.As(err, &behind) {
		// It is a matter of waiting, but for a position that is not there yet.
		status := http.StatusServiceUnavailable
		if behind.Never {
			status = http.StatusConflict
		}
		return status, refusal.New("log-behind", "asked", behind.Asked, "now", behind.Now)
	}
	no := refused(err)
	return statusOf(no.Code), no
}

// refused is what an error of any package below tells the caller.
func refused(err error) *refusal.Refusal {
	var unvalid *openapi3filter.RequestError
	var unlike *json.UnmarshalTypeError
	var echoed *echo.HTTPError
	switch {
	case errors.Is(err, ledger.ErrOtherContent):
		return refusal.New("order-id-used")
	case errors.Is(err, ledger.ErrWithdrawn):
		return refusal.New("order-withdrawn")
	case errors.Is(err, auth.ErrUsed):
		return refusal.New("link-used")
	case errors.Is(err, auth.ErrBadToken):
		return refusal.New("bad-token")
	case errors.Is(err, ledger.ErrLater):
		return refusal.New("log-later")
	case errors.Is(err, ledger.ErrDamaged):
		return refusal.New("log-damaged")
	case errors.Is(err, ledger.ErrClosed):
		return refusal.New("server-stops")
	case errors.Is(err, store.ErrAway):
		return refusal.New("database-away")
	case errors.Is(err, context.DeadlineExceeded):
		return refusal.New("too-slow")
	case errors.Is(err, context.Canceled): // as a rule the caller is gone and nobody reads it
		return refusal.New("given-up")
	case errors.Is(err, store.ErrFull):
		return refusal.New("disk-full")
	case errors.Is(err, store.ErrReadOnly):
		return refusal.New("disk-read-only")
	case errors.Is(err, store.ErrConflict):
		return refusal.New("person-erased")
	case errors.As(err, &unvalid):
		return refusal.New("bad-request", "why", why(unvalid))
	case errors.As(err, &unlike):
		return refusal.New("bad-request", "why", wire.WhyNot(unlike))
	case errors.As(err, &echoed):
		return echoedBy(echoed)
	}
	if no, is := refusal.As(err); is {
		return no
	}
	return refusal.New("internal")
}

// echoedBy says in our words what the router or one of its middlewares refused.
func echoedBy(e *echo.HTTPError) *refusal.Refusal {
	switch {
	case e.Code == http.StatusNotFound:
		return refusal.New("no-page")
	case e.Code == http.StatusMethodNotAllowed:
		return refusal.New("no-method")
	case e.Code == http.StatusRequestEntityTooLarge:
		return refusal.New("body-too-large", "limit", bodyLimit>>10)
	case e.Code == http.StatusUnsupportedMediaType:
		return refusal.New("media-type")
	case e.Code >= 500:
		return refusal.New("internal")
	}
	return refusal.New("bad-request", "why", "it cannot be read as the contract has it")
}

// retryAfter is when it is worth trying again, in seconds; "" where nobody can say.
func retryAfter(status int, code refusal.Code) string {
	switch {
	case code == "many-sign-ins":
		return "12"
	case status == http.StatusServiceUnavailable, code == "many-requests":
		return "1"
	}
	return ""
}
