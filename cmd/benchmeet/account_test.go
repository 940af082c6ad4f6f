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

// askBy asks a server with a cookie, and under the id of an order if there is one.
func askBy(t *testing.T, server, method, path, body, cookie string, order ...string) (*http.Response, []byte) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, server+path, strings.NewReader(body))
	must(t, err)
	r.Header.Set("Content-Type", "application/json")
	if cookie != "" {
		r.Header.Set("Cookie", cookie)
	}
	for _, id := range order {
		r.Header.Set("Idempotency-Key", id)
	}
	res, err := http.DefaultClient.Do(r)
	must(t, err)
	defer res.Body.Close()
	text, err := io.ReadAll(res.Body)
	must(t, err)
	return res, text
}

// cookieOf is the cookie that an answer sets, as a browser sends it.
func cookieOf(res *http.Response) string {
	set, _, _ := strings.Cut(res.Header.Get("Set-Cookie"), ";")
	return set
}

// An organiser who came by a link sets a name and a password, and signs in by them from
// another browser, which is listed and ended as all are. The log has neither.
func TestOrganisersAccount(t *testing.T) {
	const name, words = "timing-table", "rollers stop before hands go in"
	log := &aLog{}
	w := newWired(t, "", func(o *serverOptions) { o.Log = slog.New(slog.NewTextHandler(log, nil)) })
	ask := func(method, path, body, cookie string, order ...string) (*http.Response, []byte) {
		return askBy(t, w.server.url(), method, path, body, cookie, order...)
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

// A sign-in by name whose answer was lost, and that is sent again, leaves one session,
// with the cookie of before or without; and one browser signs out all others of its key.
func TestSignInByNameRetried(t *testing.T) {
	w := newWired(t, "")
	url := w.server.url()
	link, token, err := w.server.tokens.Make(t.Context(), auth.Wish{Club: "harbour", Role: auth.Organiser})
	must(t, err)
	res, _ := askBy(t, url, "POST", "/api/v1/session", `{"token":"`+link+`"}`, "")
	first := cookieOf(res)
	const typed = `{"name":"table","password":"rollers stop before hands go in"}`
	if res, text := askBy(t, url, "PUT", "/api/v1/accounts", typed, first); res.StatusCode != http.StatusNoContent {
		t.Fatalf("set: %d %s", res.StatusCode, text)
	}
	open := func(cookie string) (own, others int) {
		t.Helper()
		res, text := askBy(t, url, "GET", "/api/v1/sessions", "", cookie)
		var list gen.SessionList
		must(t, json.Unmarshal(text, &list))
		for _, one := range list.Sessions {
			switch {
			case one.Token != token.ID:
			case one.Own:
				own++
			default:
				others++
			}
		}
		if res.StatusCode != http.StatusOK {
			t.Errorf("sessions: %d %s", res.StatusCode, text)
		}
		return own, others
	}
	const third = "5f2c1c0e-0a55-4b2e-8a39-52f0b6a4a0de"
	const order = "0b4e7a52-6a1a-4d2b-9a10-3f5f3a3f0c11"
	cookie := ""
	for n, before := range []string{"", "", "the first answer's"} {
		if before != "" {
			before = cookie
		}
		res, text := askBy(t, url, "POST", "/api/v1/session/account", typed, before, order)
		if res.StatusCode != http.StatusOK || cookie != "" && cookieOf(res) != cookie {
			t.Fatalf("try %d: %d %s", n, res.StatusCode, text)
		}
		cookie = cookieOf(res)
		if own, others := open(cookie); own != 1 || others != 1 {
			t.Fatalf("after try %d this one and %d other sessions, want one other", n, others)
		}
	}
	if res, text := askBy(t, url, "POST", "/api/v1/session/account", typed, "", third); res.StatusCode != http.StatusOK {
		t.Fatalf("another order: %d %s", res.StatusCode, text)
	}
	// A session of another key stays.
	link, _, err = w.server.tokens.Make(t.Context(), auth.Wish{Club: "harbour", Role: auth.Organiser})
	must(t, err)
	res, _ = askBy(t, url, "POST", "/api/v1/session", `{"token":"`+link+`"}`, "")
	stranger := cookieOf(res)
	if res, text := askBy(t, url, "POST", "/api/v1/sessions/end-others", "{}", cookie); res.StatusCode != http.StatusNoContent {
		t.Fatalf("end others: %d %s", res.StatusCode, text)
	}
	if own, others := open(cookie); own != 1 || others != 0 {
		t.Errorf("afterwards %d own and %d other sessions", own, others)
	}
	if res, _ := askBy(t, url, "GET", "/api/v1/sessions", "", first); res.StatusCode != http.StatusUnauthorized {
		t.Errorf("one that was ended: %d", res.StatusCode)
	}
	if res, _ := askBy(t, url, "GET", "/api/v1/sessions", "", stranger); res.StatusCode != http.StatusOK {
		t.Errorf("one of another key: %d", res.StatusCode)
	}
	res, text := askBy(t, url, "POST", "/api/v1/session/account", typed, "", third)
	if res.StatusCode != http.StatusConflict || !bytes.Contains(text, []byte("order-id-used")) {
		t.Errorf("retried after it was ended: %d %s", res.StatusCode, text)
	}
}
