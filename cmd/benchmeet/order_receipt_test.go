package main

import (
	"encoding/json"
	"net/http"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

const namedOrder = "01890000-0000-7000-8000-00000000cafe"

// Every answer to an order names it, whatever became of it; what is no order
// has no name.
func TestAnswersNameTheirOrder(t *testing.T) {
	w := newWired(t, "")
	for _, tt := range []struct {
		name   string
		ask    request
		status int
	}{
		{
			"carried out",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b1", body: `{"number":1,"circumference_mm":94.25}`},
			200,
		},
		{
			"not by this role",
			request{role: auth.Volunteer, method: "PUT", path: "/api/v1/benches/b1", body: `{"number":1,"circumference_mm":94.25}`},
			403,
		},
		{"by nobody", request{method: "PUT", path: "/api/v1/benches/b1", body: `{"number":1,"circumference_mm":94.25}`}, 401},
		{"by a token that opens nothing", request{token: "old", method: "PUT", path: "/api/v1/benches/b1", body: `{}`}, 401},
		{"not as the contract wants it", request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b2", body: `{"number":"two"}`}, 400},
		{"about what is not there", request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/none/resume"}, 404},
		{"at an address that is none", request{role: auth.Organiser, method: "POST", path: "/api/v1/nothing"}, 404},
		{"signing out", request{role: auth.Organiser, method: "DELETE", path: "/api/v1/session"}, 204},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.ask.key = namedOrder
			a := w.send(tt.ask)
			if got := a.header.Get("Idempotency-Key"); got != namedOrder || a.status != tt.status {
				t.Errorf("%d names %q: %s", a.status, got, a.body)
			}
		})
	}
	var receipt gen.Receipt
	a := w.send(
		request{role: auth.Organiser, method: "PUT", path: "/api/v1/cars/c1", key: "01890000-0000-7000-8000-00000000cafd", body: `{"number":1}`},
	)
	if err := json.Unmarshal(a.body, &receipt); err != nil || receipt.Order.String() != "01890000-0000-7000-8000-00000000cafd" {
		t.Errorf("the receipt names another order: %s %v", a.body, err)
	}
	for _, key := range []string{"none", "no uuid"} {
		if a := w.send(
			request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/m/resume", key: key},
		); a.header.Get("Idempotency-Key") != "" {
			t.Errorf("the key %q is echoed", key)
		}
	}
	if a := w.send(request{method: "GET", path: "/api/v1/about", key: namedOrder}); a.header.Get("Idempotency-Key") != "" {
		t.Error("a question is named like an order")
	}
}

// An order can be taken back: whether it was carried out is then known for ever,
// whatever of it is still on its way.
func TestOrderTakenBack(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
		order := func(key string) request {
			return request{role: auth.Volunteer, method: "POST", path: "/api/v1/benches/b1/practice", key: key, body: `{"race_s":5}`}
		}
		back := func(r request) request {
			r.header = map[string]string{"Order-Withdraw": "true"}
			return r
		}
		kind := func() string {
			var o gen.BenchOrder
			w.get("/api/v1/benches/b1/order", &o)
			return string(o.Kind)
		}

		never := order("01890000-0000-7000-8000-00000000cafd")
		for _, r := range []request{back(never), back(never), never, never} {
			if a := w.send(r); a.status != http.StatusConflict || a.problem.Code != "order-withdrawn" || kind() != "free" {
				t.Fatalf("taken back before it came: %d %s, the bench is %s", a.status, a.body, kind())
			}
		}
		done := order(namedOrder)
		first := w.send(done)
		if first.status != http.StatusOK || first.header.Get("Order-Again") != "" || kind() != "practice" {
			t.Fatalf("the order: %d %s, the bench is %s", first.status, first.body, kind())
		}
		for name, r := range map[string]request{"taken back too late": back(done), "a retry": done} {
			a := w.send(r)
			if a.status != http.StatusOK || string(a.body) != string(first.body) || a.header.Get("Order-Again") != "true" {
				t.Errorf("%s: %d %s %v", name, a.status, a.body, a.header)
			}
		}
		other := back(done)
		other.body = `{"race_s":6}`
		if a := w.send(other); a.problem.Code != "order-id-used" {
			t.Errorf("another content taken back: %d %s", a.status, a.body)
		}
	})
}

// A retry of a practice run that was armed gets its receipt, though a meet has
// taken the bench since.
func TestRetryAfterTheBenchWasTaken(t *testing.T) {
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
	order := request{role: auth.Volunteer, method: "POST", path: "/api/v1/benches/b1/practice", key: namedOrder, body: `{"race_s":5}`}
	first := w.send(order)
	w.smallMeet()
	if a := w.send(order); a.status != http.StatusOK || string(a.body) != string(first.body) {
		t.Errorf("%d %s; the first time %s", a.status, a.body, first.body)
	}
	order.key = ""
	if a := w.send(order); a.status != http.StatusConflict || a.problem.Code != "bench-busy" {
		t.Errorf("another: %d %s", a.status, a.body)
	}
}

// A token whose answer was lost is not made twice: under the same key comes the
// same token with the same secret, and it opens what it should.
func TestTokenMadeOnce(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		count := func() int {
			var list gen.TokenList
			w.get("/api/v1/tokens", &list)
			return len(list.Tokens)
		}
		before := count()
		order := request{
			role: auth.Organiser, method: "POST", path: "/api/v1/tokens", key: namedOrder, body: `{"role":"bench","label":"phone","benches":["b1"]}`,
		}
		first, again := w.send(order), w.send(order)
		var made gen.NewToken
		if err := json.Unmarshal(first.body, &made); err != nil || first.status != http.StatusCreated {
			t.Fatalf("%d %s %v", first.status, first.body, err)
		}
		if string(again.body) != string(first.body) || count() != before+1 {
			t.Errorf("again %d %s, the first time %s; %d tokens, there were %d", again.status, again.body, first.body, count(), before)
		}
		if a := w.send(request{token: made.Secret, method: "GET", path: "/api/v1/benches"}); a.status != http.StatusOK {
			t.Errorf("the secret opens nothing: %d %s", a.status, a.body)
		}
		other := order
		other.body = `{"role":"bench","label":"phone","benches":["b2"]}`
		if a := w.send(other); a.status != http.StatusConflict || a.problem.Code != "order-id-used" {
			t.Errorf("another token under the key: %d %s", a.status, a.body)
		}
		order.key = "01890000-0000-7000-8000-00000000beef"
		var second gen.NewToken
		if err := json.Unmarshal(
			w.send(order).body, &second,
		); err != nil || second.Secret == made.Secret || second.Token.Id == made.Token.Id || count() != before+2 {
			t.Errorf("under another key: %+v %v", second, err)
		}
	})
}
