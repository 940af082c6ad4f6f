package main

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

const (
	meetPath  = "/api/v1/meets/spring"
	chunkPath = "/api/v1/benches/b1/chunks"
)

// innerWords are of our programs: nobody who sends something knows them.
var innerWords = regexp.MustCompile(`(uuid\.UUID|json:|json\.Number|float64|int64|offset|[Uu]nmarshal|strconv|syntax|regular expression|schema|\.go\b|goroutine)`)

// longStamps is a chunk with so many stamps.
func longStamps(n int) string {
	var b strings.Builder
	b.WriteString(`{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[0`)
	for i := 1; i < n; i++ {
		fmt.Fprintf(&b, ",%d", i)
	}
	b.WriteString("]}")
	return b.String()
}

// Every bad request gets a problem+json that says what to do, and the logs stay
// as they are.
func TestBadInputIsRefusedAndChangesNothing(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	stamps := func(list string) string {
		return `{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":` + list + `}`
	}
	tests := []struct {
		name   string
		send   request
		status int
		code   string
		says   string // a part of the sentence
	}{
		{
			"unknown field",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/heats/open-1.1.1/move", body: `{"entry":"e1","bench":"b1","hurry":true}`,
			},
			400, "bad-request", "hurry",
		},
		{
			"unknown field in a chunk",
			request{
				role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[],"speed":3}`,
			},
			400, "bad-chunk", "speed",
		},
		{
			"missing field",
			request{role: auth.Organiser, method: "POST", path: meetPath + "/heats/open-1.1.1/move", body: `{"entry":"e1"}`},
			400,
			"bad-request", "bench",
		},
		{"not JSON", request{role: auth.Organiser, method: "POST", path: "/api/v1/meets", body: `{"id":`}, 400, "bad-json", "one whole"},
		{
			"rubbish behind the JSON",
			request{role: auth.Organiser, method: "POST", path: "/api/v1/tokens", body: `{"role":"organiser","label":"x"} {"role":"box"}`},
			400, "bad-json", "nothing behind",
		},
		{
			"two documents",
			request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[]") + stamps("[]")},
			400, "bad-chunk",
			"one chunk a request",
		},
		{
			"stamps backwards",
			request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[5,9,7]")},
			400, "bad-chunk",
			"stamps_us[2] runs backwards",
		},
		{
			"stamps that are no numbers",
			request{role: auth.Box, method: "POST", path: chunkPath, body: stamps(`["soon"]`)},
			400, "bad-chunk",
			"stamps_us",
		},
		{"stamps with parts", request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[1.5]")}, 400, "bad-chunk", "whole"},
		{"stamps below zero", request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[-1]")}, 400, "bad-chunk", "stamps_us[0]"},
		{
			"a stamp beyond 2^53",
			request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[9007199254740993]")},
			400, "bad-chunk",
			"2^53",
		},
		{
			"too many stamps",
			request{role: auth.Box, method: "POST", path: chunkPath, body: longStamps(10_001)},
			400, "bad-chunk",
			"at most 10000",
		},
		{
			"no stamps at all",
			request{role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"00000000000000aa","run":"r","number":0}`},
			400, "bad-chunk", "stamps_us is missing",
		},
		{
			"a boot id that is none",
			request{role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"7","run":"r","number":0,"stamps_us":[]}`},
			400, "bad-chunk",
			"16 hexadecimal",
		},
		{
			"totals that cannot be",
			request{
				role: auth.Box, method: "POST", path: chunkPath,
				body: `{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[],"last":{"chunks":3,"stamps":0}}`,
			},
			400, "bad-chunk", "last.chunks must be 1",
		},
		{
			"body over the limit", request{role: auth.Box, method: "POST", path: chunkPath, body: longStamps(90_000)}, 413, "body-too-large", "512",
		},
		{"wrong token", request{token: "not-a-token", method: "POST", path: meetPath + "/divisions/open/draw"}, 401, "bad-token", "organiser"},
		{
			"another scheme",
			request{method: "GET", path: meetPath, header: map[string]string{"Authorization": "Basic b3JnYW5pc2VyOg=="}},
			401,
			"bad-token", "organiser",
		},
		{"no token", request{role: auth.Public, method: "POST", path: meetPath + "/divisions/open/draw"}, 401, "sign-in", "Sign in"},
		{"a stranger's run", request{role: auth.Public, method: "POST", path: chunkPath, body: stamps("[1]")}, 401, "sign-in", "Sign in"},
		{
			"a bench that is not theirs",
			request{role: auth.Box, method: "POST", path: "/api/v1/benches/b9/chunks", body: stamps("[1]")},
			403,
			"not-your-bench", "not for this bench",
		},
		{
			"a volunteer who rules",
			request{
				role: auth.Volunteer, method: "POST", path: meetPath + "/rulings", body: `{"kind":"void","heat":"open-1.1.1","reason":{"code":"power"}}`,
			},
			403, "not-allowed", "ask the organiser",
		},
		{
			"an official who erases",
			request{role: auth.Official, method: "DELETE", path: "/api/v1/people/somebody"},
			403, "not-allowed",
			"official",
		},
		{
			"no order id",
			request{role: auth.Organiser, method: "POST", path: meetPath + "/divisions/open/draw", key: "none"},
			400, "bad-request",
			"Idempotency-Key",
		},
		{
			"an order id that is none",
			request{role: auth.Organiser, method: "POST", path: meetPath + "/divisions/open/draw", key: "first"},
			400,
			"bad-request", "Idempotency-Key",
		},
		{"no such meet", request{role: auth.Organiser, method: "POST", path: "/api/v1/meets/autumn/divisions/open/draw"}, 404, "no-division", ""},
		{"no such page", request{method: "GET", path: "/api/v1/weather"}, 404, "no-page", ""},
		{"no such method", request{role: auth.Organiser, method: "PATCH", path: meetPath}, 405, "no-method", "method"},
		{"no such heat", request{role: auth.Organiser, method: "POST", path: meetPath + "/heats/open-9.9.9/start"}, 404, "no-heat", "no such heat"},
		{
			"a rule of the day",
			request{role: auth.Organiser, method: "POST", path: meetPath + "/divisions/open/draw"},
			409, "round-open",
			"close it",
		},
		{
			"the wrong car",
			request{role: auth.Volunteer, method: "POST", path: meetPath + "/heats/open-1.1.1/ready", body: `{"bench":"b1","start_number":99}`},
			409,
			"wrong-car", "99",
		},
		{
			"an impossible bench",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b3", body: `{"number":3,"circumference_mm":-4}`},
			400, "bad-request",
			"circumference_mm",
		},
		{
			"somebody born tomorrow",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/entries",
				body: `{"division":"open","start_number":9,"person":{"name":"A","display_name":"","on_screen":false,"in_results":false,"photo":false,"birth_date":"2030-01-01"}}`,
			},
			422, "birth-date", "2030",
		},
		{
			"somebody born on no day",
			request{
				role: auth.Organiser, method: "PUT", path: "/api/v1/people/p1",
				body: `{"name":"A","display_name":"","on_screen":false,"in_results":false,"photo":false,"birth_date":"2015-99-99"}`,
			},
			422, "birth-no-date", "2015-99-99",
		},
		{
			"an entry of somebody whom nobody can read",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/entries",
				body: `{"division":"open","start_number":9,"person":{"name":"\u200b","display_name":"","on_screen":false,"in_results":false,"photo":false}}`,
			},
			422, "name-blank", "can be seen",
		},
		{
			"an entry that turns the writing",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/entries",
				body: `{"division":"open","start_number":9,"person":{"name":"A","display_name":"x\u202ey","on_screen":true,"in_results":false,"photo":false}}`,
			},
			422, "name-odd", "direction",
		},
		{
			"erasing an id that nobody has",
			request{role: auth.Organiser, method: "DELETE", path: "/api/v1/people/nobody-has-it"},
			404, "no-person", "nobody-has-it",
		},
		{
			"a zero byte behind a backslash",
			request{
				role: auth.Organiser, method: "PUT", path: "/api/v1/people/p1",
				body: `{"name":"A\\\\\u0000","display_name":"","on_screen":false,"in_results":false,"photo":false}`,
			},
			400, "bad-text", "zero character",
		},
		{
			"a name with a zero byte",
			request{
				role: auth.Organiser, method: "PUT", path: "/api/v1/people/p1",
				body: `{"name":"A\u0000","display_name":"","on_screen":false,"in_results":false,"photo":false}`,
			},
			400, "bad-text", "zero character",
		},
		{
			"a whole number with a power",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b3", body: `{"number":1e2,"circumference_mm":94.25}`},
			400, "bad-request", "number: this is a whole number, written in digits alone, such as 100.",
		},
		{
			"a whole number with a point",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b3", body: `{"number":3.0,"circumference_mm":94.25}`},
			400, "bad-request", "number: this is a whole number, written in digits alone, such as 100.",
		},
		{
			"a chunk's number with a power",
			request{role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"00000000000000aa","run":"r","number":1e0,"stamps_us":[]}`},
			400, "bad-chunk", "number: this is a whole number, written in digits alone, such as 100.",
		},
		{
			"a stamp with a point",
			request{role: auth.Box, method: "POST", path: chunkPath, body: stamps("[1.0]")},
			400, "bad-chunk", "stamps_us: this is a whole number, written in digits alone, such as 100.",
		},
		{
			"a position with a power",
			request{role: auth.Organiser, method: "GET", path: meetPath + "/heats?at_least=1e2"},
			400, "bad-request", "at_least: this is a whole number, written in digits alone",
		},
		{
			"a number that is too large for any",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/benches/b3", body: `{"number":3,"circumference_mm":1e999}`},
			400, "bad-request", "circumference_mm: this is a number.",
		},
		{
			"a name twice",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/rulings",
				body: `{"kind":"void","kind":"accept","heat":"open-1.1.1","reason":{"code":"power"}}`,
			},
			400, "json-twice", "“kind” stands twice",
		},
		{
			"a name twice below",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/rulings",
				body: `{"kind":"void","heat":"open-1.1.1","reason":{"code":"power","c\u006fde":"other"}}`,
			},
			400, "json-twice", "“reason.code” stands twice",
		},
		{
			"a name twice in a chunk",
			request{role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"00000000000000aa","run":"r","number":0,"number":1,"stamps_us":[]}`},
			400, "bad-chunk", "number: the name stands twice",
		},
		{
			"a name twice in the totals of a chunk",
			request{
				role: auth.Box, method: "POST", path: chunkPath,
				body: `{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[],"last":{"chunks":1,"stamps":0,"stamps":0}}`,
			},
			400, "bad-chunk", "last.stamps: the name stands twice",
		},
		{
			"a chunk in capitals",
			request{role: auth.Box, method: "POST", path: chunkPath, body: `{"boot":"00000000000000aa","run":"r","number":0,"STAMPS_US":[]}`},
			400, "bad-chunk", "STAMPS_US: a chunk has nothing of this name",
		},
		{
			"an unknown name of 5000 letters",
			request{
				role: auth.Organiser, method: "POST", path: meetPath + "/heats/open-1.1.1/move",
				body: `{"entry":"e1","bench":"b1","` + strings.Repeat("k", 5000) + `":true}`,
			},
			400, "bad-request", "of the name “" + strings.Repeat("k", 59) + "…” belongs here.",
		},
		{
			"an unknown name of 5000 letters in a chunk",
			request{
				role: auth.Box, method: "POST", path: chunkPath,
				body: `{"boot":"00000000000000aa","run":"r","number":0,"stamps_us":[],"` + strings.Repeat("k", 5000) + `":true}`,
			},
			400, "bad-chunk", strings.Repeat("k", 59) + "…: a chunk has nothing of this name.",
		},
		{
			"an id that is none",
			request{role: auth.Organiser, method: "PUT", path: "/api/v1/cars/-a", body: `{"number":3}`},
			400, "bad-request", "car: this is an id: letters and digits, with dots, dashes and underscores behind the first.",
		},
		{
			"a page of another site",
			request{
				role: auth.Public, method: "POST", path: meetPath + "/divisions/open/draw",
				header: map[string]string{"Cookie": "benchmeet=" + w.tokens[auth.Organiser], "Origin": "http://elsewhere.example"},
			},
			403, "other-origin", "another site",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := w.position()
			a := w.send(tt.send)
			if a.status != tt.status || a.problem.Code != tt.code || !strings.Contains(a.problem.Detail, tt.says) {
				t.Errorf("%d %s %q; want %d %s with %q", a.status, a.problem.Code, a.problem.Detail, tt.status, tt.code, tt.says)
			}
			if inner := innerWords.FindString(string(a.body)); inner != "" || len(a.body) > 2000 {
				t.Errorf("%d bytes, and our own %q in %s", len(a.body), inner, a.body)
			}
			if a.kind != "application/problem+json" || a.problem.Status != tt.status || a.problem.Title == "" {
				t.Errorf("not a whole problem: %s %s", a.kind, a.body)
			}
			if after := w.position(); after != before {
				t.Errorf("the log moved from %s to %s", before, after)
			}
		})
	}
}

func TestSameOrderAgain(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		order := request{
			role: auth.Organiser, method: "POST", path: meetPath + "/protests", key: "01890000-0000-7000-8000-00000000beef",
			body: `{"heat":"open-1.1.1","reason":{"code":"other"}}`,
		}
		t.Run("a refusal is not remembered", func(t *testing.T) {
			if a := w.send(order); a.status != http.StatusConflict || a.problem.Code != "protest-early" {
				t.Fatalf("%d %s", a.status, a.body)
			}
		})
		h := w.startFirstHeat()
		for i, l := range h.Lanes {
			w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", int64(7000+100*i))
		}
		first := w.send(order)
		if first.status != http.StatusCreated {
			t.Fatalf("%d %s", first.status, first.body)
		}
		before := w.position()
		t.Run("same content, same answer", func(t *testing.T) {
			again := w.send(order)
			if again.status != first.status || string(again.body) != string(first.body) {
				t.Errorf("%d %s; the first time %d %s", again.status, again.body, first.status, first.body)
			}
		})
		t.Run("other content is refused", func(t *testing.T) {
			other := order
			other.body = `{"heat":"open-1.1.1","reason":{"code":"power"}}`
			if a := w.send(other); a.status != http.StatusConflict || a.problem.Code != "order-id-used" {
				t.Errorf("%d %s", a.status, a.body)
			}
		})
		if after := w.position(); after != before {
			t.Errorf("the log moved from %s to %s", before, after)
		}
	})
}

// A backslash with "u0000" behind it is plain text, and an id whose erasure was refused
// can be somebody's afterwards.
func TestPlainTextAndAnIDThatWasNotErased(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		if a := w.send(request{role: auth.Organiser, method: "DELETE", path: "/api/v1/people/p1"}); a.status != http.StatusNotFound {
			t.Fatalf("erasing nobody: %d %s", a.status, a.body)
		}
		w.do("PUT", "/api/v1/people/p1", `{"name":"A\\u0000","display_name":"","on_screen":false,"in_results":false,"photo":false}`)
		var list gen.PersonList
		w.get("/api/v1/people", &list)
		if len(list.People) != 1 || list.People[0].Name != `A\u0000` {
			t.Errorf("kept: %+v", list.People)
		}
		for range 2 { // erasing again is no mistake
			if a := w.send(request{role: auth.Organiser, method: "DELETE", path: "/api/v1/people/p1"}); a.status != http.StatusOK {
				t.Errorf("erasing: %d %s", a.status, a.body)
			}
		}
	})
}
