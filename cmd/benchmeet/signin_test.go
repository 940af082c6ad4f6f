package main

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/hosted"
	"benchmeet/api/store"
)

// Starts that each ask for another sign-in, as trying the program out does, leave one
// link that opens the desk, and no browser that came in with an earlier one. Keys that
// an organiser made stay. A start that does not ask makes none.
func TestStartsLeaveOneSignIn(t *testing.T) {
	data := t.TempDir()
	signIn := func(w *wired, secret string) answer {
		return w.send(request{method: "POST", path: "/api/v1/session", body: `{"token":"` + secret + `"}`})
	}
	var links, cookies []string
	for start := range 3 {
		s, err := startServer(t.Context(), serverOptions{
			Listen: "127.0.0.1:0", Data: data, Scale: 1, Club: store.Club{ID: "harbour", Name: "Harbour Hall"},
		})
		if err != nil {
			t.Fatal(err)
		}
		w := &wired{t: t, server: s, tokens: map[auth.Role]string{}}
		secret, made, err := s.signIn(t.Context(), true)
		if err != nil || !made {
			t.Fatalf("start %d: made is %v, %v", start, made, err)
		}
		if again, made, err := s.signIn(t.Context(), false); made || err != nil || again != "" {
			t.Errorf("start %d, asked for nothing: made is %v, %v", start, made, err)
		}
		for i, old := range links {
			if a := signIn(w, old); a.status != http.StatusUnauthorized {
				t.Errorf("start %d: the link of start %d signs in: %d %s", start, i, a.status, a.body)
			}
			a := w.send(request{method: "GET", path: "/api/v1/tokens", header: map[string]string{"Cookie": cookies[i]}})
			if a.status != http.StatusUnauthorized {
				t.Errorf("start %d: the browser of start %d is signed in: %d", start, i, a.status)
			}
		}
		in := signIn(w, secret)
		if in.status != http.StatusOK {
			t.Fatalf("start %d: the link that it shows: %d %s", start, in.status, in.body)
		}
		cookie, _, _ := strings.Cut(in.header.Get("Set-Cookie"), ";")
		links, cookies = append(links, secret), append(cookies, cookie)
		if start == 0 {
			own := auth.Wish{Club: "harbour", Role: auth.Organiser, Label: "second laptop"}
			if w.tokens[auth.Organiser], _, err = s.tokens.Make(t.Context(), own); err != nil {
				t.Fatal(err)
			}
		}
		var good []string
		all, err := s.store.AllTokens(t.Context(), "harbour")
		if err != nil {
			t.Fatal(err)
		}
		for _, one := range all {
			if auth.Good(one, s.clock.now()) {
				good = append(good, one.Label)
			}
		}
		slices.Sort(good)
		if want := []string{hosted.SignInLabel, "second laptop"}; !slices.Equal(good, want) {
			t.Errorf("start %d: good keys are %q, want %q", start, good, want)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

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
