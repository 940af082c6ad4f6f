package main

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// aLog keeps what a server writes into its log.
type aLog struct {
	mu sync.Mutex
	bytes.Buffer
}

func (l *aLog) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.Buffer.Write(p)
}

func (l *aLog) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.Buffer.String()
}

// An organiser who came by a link sets a name and a password, and signs in by them from
// another browser, which is listed and ended as all are. The log has neither.
func TestOrganisersAccount(t *testing.T) {
	const name, words = "timing-table", "rollers stop before hands go in"
	log := &aLog{}
	w := newWired(t, "", func(o *serverOptions) { o.Log = slog.New(slog.NewTextHandler(log, nil)) })
	ask := func(method, path, body, cookie string) (*http.Response, []byte) {
		t.Helper()
		r, err := http.NewRequestWithContext(t.Context(), method, w.server.url()+path, strings.NewReader(body))
		must(t, err)
		r.Header.Set("Content-Type", "application/json")
		if cookie != "" {
			r.Header.Set("Cookie", cookie)
		}
		res, err := http.DefaultClient.Do(r)
		must(t, err)
		defer res.Body.Close()
		text, err := io.ReadAll(res.Body)
		must(t, err)
		return res, text
	}
	cookieOf := func(res *http.Response) string {
		t.Helper()
		set, _, _ := strings.Cut(res.Header.Get("Set-Cookie"), ";")
		return set
	}
	link, token, err := w.server.tokens.Make(t.Context(), auth.Wish{Club: "harbour", Role: auth.Organiser})
	must(t, err)
	res, _ := ask("POST", "/api/v1/session", `{"token":"`+link+`"}`, "")
	first := cookieOf(res)
	typed := `{"name":"` + name + `","password":"` + words + `"}`
	res, text := ask("POST", "/api/v1/session/account", typed, "")
	if res.StatusCode != http.StatusUnauthorized || !bytes.Contains(text, []byte("password-wrong")) {
		t.Fatalf("before it was set: %d %s", res.StatusCode, text)
	}
	if res, text := ask("PUT", "/api/v1/accounts", typed, first); res.StatusCode != http.StatusNoContent {
		t.Fatalf("set: %d %s", res.StatusCode, text)
	}
	// An old cookie is in nobody's way.
	res, text = ask("POST", "/api/v1/session/account", typed, "benchmeet=of-long-ago")
	var who gen.Session
	must(t, json.Unmarshal(text, &who))
	second := cookieOf(res)
	if res.StatusCode != http.StatusOK || who.Role != gen.RoleOrganiser || second == first || second == "" {
		t.Fatalf("by name: %d %s", res.StatusCode, text)
	}
	var list gen.AccountList
	_, text = ask("GET", "/api/v1/accounts", "", second)
	must(t, json.Unmarshal(text, &list))
	if len(list.Accounts) != 1 || list.Accounts[0].Name != name || list.Accounts[0].Token != token.ID || !list.Accounts[0].Own {
		t.Errorf("accounts: %s", text)
	}
	var open gen.SessionList
	_, text = ask("GET", "/api/v1/sessions", "", first)
	must(t, json.Unmarshal(text, &open))
	ended := 0
	for _, one := range open.Sessions {
		if one.Token == token.ID && !one.Own {
			res, _ := ask("POST", "/api/v1/sessions/"+one.Id+"/end", "{}", first)
			ended += res.StatusCode
		}
	}
	if ended != http.StatusNoContent {
		t.Errorf("the second browser is not in the list, or was not ended: %s", text)
	}
	if res, _ := ask("GET", "/api/v1/accounts", "", second); res.StatusCode != http.StatusUnauthorized {
		t.Errorf("an ended session reads accounts: %d", res.StatusCode)
	}
	if res, text := ask("POST", "/api/v1/accounts/"+token.ID+"/drop", "{}", first); res.StatusCode != http.StatusNoContent {
		t.Fatalf("dropped: %d %s", res.StatusCode, text)
	}
	if res, _ := ask("POST", "/api/v1/session/account", typed, ""); res.StatusCode != http.StatusUnauthorized {
		t.Errorf("a dropped account: %d", res.StatusCode)
	}
	for _, secret := range []string{name, words, link} {
		if strings.Contains(log.String(), secret) {
			t.Errorf("the log has %q", secret)
		}
	}
	if !strings.Contains(log.String(), "a sign-in failed") {
		t.Error("the log does not say that a sign-in failed")
	}
}
