package main

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/netip"
	"strings"
	"sync"
	"testing"

	"benchmeet/api/auth"
)

// said is a log that tests read.
type said struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *said) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(b)
}

func (s *said) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// newHallBehindProxy is a server that believes this machine when it says for whom it asks.
func newHallBehindProxy(t *testing.T) (*wired, *said) {
	t.Helper()
	log := &said{}
	w := newWired(t, "", func(o *serverOptions) {
		o.Proxies, o.Log = proxies{netip.MustParsePrefix("127.0.0.1/32")}, slog.New(slog.NewTextHandler(log, nil))
	})
	return w, log
}

// TestRequestsAreHeldToARate: a stranger gets about its burst of answers and then a no that
// says when to come again, and keeps out neither another address nor who is signed in
// behind the same one.
func TestRequestsAreHeldToARate(t *testing.T) {
	w, _ := newHallBehindProxy(t)
	from := func(address string, role auth.Role) answer {
		return w.send(request{role: role, method: "GET", path: "/api/v1/meets", header: map[string]string{"X-Forwarded-For": address}})
	}
	let, refused := 0, 0
	for range 400 { // within a few seconds: 100 and 20 a second
		switch a := from("198.51.100.7", auth.Public); a.status {
		case http.StatusOK:
			let++
		case http.StatusTooManyRequests:
			if refused++; a.problem.Code != "many-requests" || a.header.Get("Retry-After") != "1" || !strings.Contains(a.problem.Detail, "wait") {
				t.Fatalf("%s %v", a.body, a.header)
			}
		default:
			t.Fatalf("%d %s", a.status, a.body)
		}
	}
	if let < 100 || refused == 0 {
		t.Errorf("%d were answered, %d not", let, refused)
	}
	if a := from("198.51.100.8", auth.Public); a.status != http.StatusOK {
		t.Errorf("another address: %d", a.status)
	}
	for range 250 {
		if a := from("198.51.100.7", auth.Organiser); a.status != http.StatusOK {
			t.Fatalf("who is signed in behind that address: %d %s", a.status, a.body)
		}
	}
}

// TestFailedSignInsAreFew: five a minute from one address, by a link or as a bearer; a
// good key is let in all the same, and the log names no key.
func TestFailedSignInsAreFew(t *testing.T) {
	w, log := newHallBehindProxy(t)
	header := map[string]string{"X-Forwarded-For": "198.51.100.7"}
	signIn := func(token string) answer {
		return w.send(request{method: "POST", path: "/api/v1/session", body: `{"token":"` + token + `"}`, header: header})
	}
	for i := range 9 {
		guess := func() answer { return signIn("guess-of-a-stranger") }
		if i%2 == 1 {
			guess = func() answer {
				return w.send(request{token: "guess-of-a-stranger", method: "GET", path: "/api/v1/people", header: header})
			}
		}
		a := guess()
		want, code := http.StatusUnauthorized, "bad-token"
		if i >= 5 {
			want, code = http.StatusTooManyRequests, "many-sign-ins"
		}
		if a.status != want || a.problem.Code != code || (want == http.StatusTooManyRequests) != (a.header.Get("Retry-After") == "12") {
			t.Errorf("guess %d: %d %s, Retry-After %q", i+1, a.status, a.body, a.header.Get("Retry-After"))
		}
	}
	if a := signIn(w.tokens[auth.Organiser]); a.status != http.StatusOK {
		t.Errorf("a key that is good: %d %s", a.status, a.body)
	}
	if n := strings.Count(log.String(), "a sign-in failed"); n != 5 || !strings.Contains(log.String(), "198.51.100.7") {
		t.Errorf("%d are noted:\n%s", n, log)
	}
	for _, secret := range []string{"guess-of-a-stranger", w.tokens[auth.Organiser]} {
		if strings.Contains(log.String(), secret) {
			t.Error("the log holds a key")
		}
	}
}
