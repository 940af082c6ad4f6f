package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// clubCommand runs "benchmeet club".
func clubCommand(t *testing.T, args ...string) (code int, out, said string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code = run(t.Context(), append([]string{"club"}, args...), strings.NewReader(""), &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// linkIn is the secret of the first link that an invitation printed.
func linkIn(t *testing.T, out string) string {
	t.Helper()
	var invited gen.InvitedClub
	if err := json.Unmarshal([]byte(out), &invited); err != nil || len(invited.Links) == 0 {
		t.Fatalf("an invitation printed %q: %v", out, err)
	}
	_, secret, _ := strings.Cut(invited.Links[0], "#token=")
	return secret
}

// TestInviteInTheDatabase: clubs are invited while no server runs, and found by the next one.
// Lost links are made anew under the same short name and name; whatever may be a slip of the
// finger is refused and changes nothing.
func TestInviteInTheDatabase(t *testing.T) {
	data := t.TempDir()
	code, out, said := clubCommand(t, "invite", "Pier Hall", "--short", "pier", "--host", "Pier.Example", "--data", data)
	if code != exitDone {
		t.Fatalf("invite: %d %s", code, said)
	}
	first := linkIn(t, out)
	if !strings.Contains(out, "https://pier.example/desk#token=") {
		t.Errorf("the link is not at the club's own host: %s", out)
	}
	code, out, said = clubCommand(t, "invite", "Pier Hall", "--short", "pier", "--data", data, "--address", "https://hall.example/")
	if code != exitDone || linkIn(t, out) == first || !strings.Contains(out, "https://hall.example/c/pier/desk#token=") {
		t.Errorf("invited again: %d %s %s", code, out, said)
	}
	second := linkIn(t, out)
	for name, wrong := range map[string]struct {
		args []string
		code int
		says string
	}{
		"another name":       {[]string{"Mole", "--short", "pier"}, exitRefused, "another club"},
		"a host taken":       {[]string{"Mole", "--short", "mole", "--host", "pier.example"}, exitRefused, "host name"},
		"the server's own":   {[]string{"Our club", "--short", "home"}, exitRefused, "another club"},
		"no short name":      {[]string{"Mole"}, exitUsage, "--short"},
		"a path for a short": {[]string{"Mole", "--short", "mo/le"}, exitRefused, "lower-case"},
		"capitals":           {[]string{"Mole", "--short", "Mole"}, exitRefused, "lower-case"},
		"a hyphen behind":    {[]string{"Mole", "--short", "mole-"}, exitRefused, "lower-case"},
		"no name":            {[]string{" ", "--short", "mole"}, exitRefused, "name"},
		"an address as host": {[]string{"Mole", "--short", "mole", "--host", "https://mole.example"}, exitRefused, "host name"},
	} {
		code, out, said := clubCommand(t, append(append([]string{"invite"}, wrong.args...), "--data", data)...)
		if code != wrong.code || out != "" || !strings.Contains(said, wrong.says) {
			t.Errorf("%s: %d %q %q, want %d and %q", name, code, out, said, wrong.code, wrong.says)
		}
	}
	if code, out, said = clubCommand(t, "list", "--data", data); code != exitDone {
		t.Fatalf("list: %d %s", code, said)
	}
	var list gen.ClubList
	must(t, json.Unmarshal([]byte(out), &list))
	if len(list.Clubs) != 1 || list.Clubs[0].Short != "pier" || list.Clubs[0].Name != "Pier Hall" || *list.Clubs[0].Host != "pier.example" {
		t.Errorf("the list is %s", out)
	}
	w := newWired(t, "", func(o *serverOptions) { o.Data = data })
	for name, secret := range map[string]string{"the first link": first, "the second": second} {
		a := w.send(request{method: "POST", path: "/c/pier/api/v1/session", body: `{"token":"` + secret + `"}`})
		if a.status != http.StatusOK {
			t.Errorf("%s signs in nobody: %d %s", name, a.status, a.body)
		}
	}
	code, _, said = clubCommand(t, "invite", "Mole", "--short", "mole", "--data", data)
	if code != exitRefused || !strings.Contains(said, "--server") {
		t.Errorf("beside a server that has the file open: %d %s", code, said)
	}
}

// TestInviteThroughAServer: an organiser of the server's own club invites, and nobody else;
// a club that was invited has its own organiser, and no key of the server's own club makes
// another link to it. The club is there at once.
func TestInviteThroughAServer(t *testing.T) {
	w := newWired(t, "")
	invite := func(token string, args ...string) (int, string, string) {
		t.Setenv("BENCHMEET_TOKEN", token)
		return clubCommand(t, append([]string{"invite", "Pier Hall", "--server", w.server.url()}, args...)...)
	}
	code, out, said := invite(w.tokens[auth.Official], "--short", "pier")
	if code != exitRefused || out != "" || !strings.Contains(said, "not for this") {
		t.Errorf("by an official: %d %s %s", code, out, said)
	}
	code, out, said = invite(w.tokens[auth.Organiser], "--short", "pier")
	if code != exitDone || !strings.Contains(out, w.server.url()+"/c/pier/desk#token=") {
		t.Fatalf("by an organiser: %d %s %s", code, out, said)
	}
	secret := linkIn(t, out)
	if a := w.send(request{token: secret, method: "GET", path: "/c/pier/api/v1/people"}); a.status != http.StatusOK {
		t.Errorf("the link reads nothing of its club: %d %s", a.status, a.body)
	}
	if a := w.send(request{token: secret, method: "POST", path: "/api/v1/clubs", body: `{"short":"mole","name":"Mole"}`}); a.problem.Code != "clubs-not-yours" {
		t.Errorf("another club's organiser invites: %d %s", a.status, a.body)
	}
	code, out, said = invite(w.tokens[auth.Organiser], "--short", "pier")
	if code != exitRefused || out != "" || !strings.Contains(said, "another club") {
		t.Errorf("another link to a club that is there: %d %s %s", code, out, said)
	}
	order := request{role: auth.Organiser, method: "POST", path: "/api/v1/clubs", key: "01890000-0000-7000-8000-00000000abcd", body: `{"short":"mole","name":"Mole"}`}
	one, again := w.send(order), w.send(order)
	if diff := cmp.Diff(string(one.body), string(again.body)); diff != "" || one.status != http.StatusCreated {
		t.Errorf("the same order again (-first +again):\n%s", diff)
	}
	t.Setenv("BENCHMEET_TOKEN", "x")
	portal := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { _, _ = io.WriteString(w, "<html>welcome") }))
	defer portal.Close()
	if code, out, _ := clubCommand(t, "invite", "X", "--short", "x", "--server", portal.URL); code != exitUsage || out != "" {
		t.Errorf("a portal in the server's place: %d %s", code, out)
	}
}

// TestImportedClubIsOpened: what was imported is nobody's page until it is invited under its id.
func TestImportedClubIsOpened(t *testing.T) {
	w := newWired(t, "")
	must(t, w.server.store.EnsureClub(t.Context(), store.Club{ID: "mole", Name: "as it was imported"}))
	at := request{method: "GET", path: "/c/mole/api/v1/meets"}
	if a := w.send(at); a.problem.Code != "no-club" {
		t.Errorf("before: %d %s", a.status, a.body)
	}
	w.do("POST", "/api/v1/clubs", `{"short":"mole","name":"Mole"}`)
	if a := w.send(at); a.status != http.StatusOK {
		t.Errorf("afterwards: %d %s", a.status, a.body)
	}
}
