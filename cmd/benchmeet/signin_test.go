package main

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// A browser whose cookie opens nothing any more can still read, sign in anew and
// sign out: it cannot remove an HttpOnly cookie by itself.
func TestOldCookieDoesNotLockAPhoneOut(t *testing.T) {
	w := newWired(t, "")
	old := map[string]string{"Cookie": "benchmeet=no-longer-known", "Origin": w.server.url()}
	body := `{"token":"` + w.tokens[auth.Volunteer] + `"}`

	if a := w.send(request{method: "GET", path: "/api/v1/meets", header: old}); a.status != http.StatusOK {
		t.Errorf("reading: %d %s", a.status, a.body)
	}
	if a := w.send(
		request{method: "POST", path: "/api/v1/benches/b1/practice", body: `{"race_s":5}`, header: old},
	); a.status != http.StatusUnauthorized {
		t.Errorf("an order: %d %s", a.status, a.body)
	}
	in := w.send(request{method: "POST", path: "/api/v1/session", body: body, header: old})
	var who gen.Session
	if err := json.Unmarshal(in.body, &who); err != nil || in.status != http.StatusOK || who.Role != gen.RoleVolunteer {
		t.Fatalf("signing in: %d %s %v", in.status, in.body, err)
	}
	cookie := in.header.Get("Set-Cookie")
	for _, part := range []string{"HttpOnly", "SameSite=Strict", "Path=/"} {
		if !strings.Contains(cookie, part) {
			t.Errorf("the cookie %q lacks %s", cookie, part)
		}
	}
	if a := w.send(request{method: "DELETE", path: "/api/v1/session", header: old}); a.status != http.StatusNoContent {
		t.Errorf("signing out: %d %s", a.status, a.body)
	}
}

// Every address that is no file is one of the three faces, "/" too.
func TestEveryAddressIsAFace(t *testing.T) {
	w := newWired(t, "")
	for _, path := range []string{"/", "/desk", "/desk/entries/spring", "/bench/b1", "/m/spring", "/practice"} {
		for _, method := range []string{http.MethodGet, http.MethodHead} {
			a := w.send(request{method: method, path: path})
			if a.status != http.StatusOK || !strings.HasPrefix(a.kind, "text/html") {
				t.Errorf("%s %s: %d %s", method, path, a.status, a.kind)
			}
		}
	}
}
