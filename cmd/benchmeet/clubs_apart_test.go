package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// words that only one of two clubs has, which else are the same to the last id.
type ownWords struct{ hall, people, nick, text, label string }

var (
	harbourWords = ownWords{"Harbour Hall", "Quay", "Nick 1", walkedText, walkedLabel}
	pierWords    = ownWords{"Pier Hall", "Wharf", "Dock 1", "what the wharf says", "a key of the wharf"}
)

func (o ownWords) in(text []byte) (found []string) {
	for _, word := range []string{o.hall, o.people, o.nick, o.text, o.label} {
		if bytes.Contains(text, []byte(word)) {
			found = append(found, word)
		}
	}
	return found
}

// twoClubs are a server's own club, "harbour", and one that was invited, "pier": the same
// meet, people, practice and packs under the same ids, said in other words.
func twoClubs(t *testing.T) (harbour, pier *walker) {
	harbour = &walker{wired: newWired(t, "", func(o *serverOptions) {
		o.Proxies = proxies{netip.MustParsePrefix("127.0.0.1/32")}
	})}
	harbour.do("POST", "/api/v1/clubs", `{"short":"pier","name":"Pier Hall","host":"pier.example"}`)
	pier = &walker{wired: &wired{t: t, server: harbour.server, tokens: map[auth.Role]string{}, words: strings.NewReplacer(
		harbourWords.hall, pierWords.hall, harbourWords.people, pierWords.people, harbourWords.nick, pierWords.nick,
		harbourWords.text, pierWords.text, walkedLabel, pierWords.label,
	)}}
	pier.orders.Store(1_000_000) // orders of its own
	pier.giveKeys("pier")
	for _, w := range []*walker{harbour, pier} {
		w.furnish()
		w.do("POST", meetPath+"/packs", `{"packs":["C1"]}`)
		w.do("POST", "/api/v1/tokens", `{"role":"referee","label":"`+walkedLabel+`"}`)
	}
	return harbour, pier
}

// come are those who ask at a club's address: its own organiser, nobody, and everybody of
// the other club, by key and by a cookie that somebody put under this club's name.
func come(t *testing.T, own, other *walker, otherClub string) (mine, public asker, foreign, forged []asker) {
	t.Helper()
	for _, role := range auth.Roles() {
		foreign = append(foreign, asker{name: "foreign " + string(role), bearer: other.tokens[role]})
	}
	link, _, err := other.server.tokens.Make(t.Context(), auth.Wish{Club: otherClub, Role: auth.Organiser, Label: pierWords.label})
	must(t, err)
	cookie, _, _, err := other.server.tokens.Exchange(t.Context(), otherClub, link, "")
	must(t, err)
	return asker{name: "own organiser", bearer: own.tokens[auth.Organiser]}, asker{name: "public"}, foreign,
		[]asker{{name: "foreign cookie", cookie: cookie}}
}

// heads are how far the logs of a club are, and what is kept beside them.
func heads(t *testing.T, w *walker, club string) any {
	t.Helper()
	streams, err := w.server.store.Streams(t.Context(), club)
	must(t, err)
	tokens, err := w.server.store.AllTokens(t.Context(), club)
	must(t, err)
	people, err := w.server.store.AllPeople(t.Context(), club)
	must(t, err)
	texts, err := w.server.store.AllTexts(t.Context(), club)
	must(t, err)
	for i := range tokens {
		tokens[i].UsedUS = 0 // whoever came here used theirs
	}
	return []any{streams, tokens, people, texts}
}

// TestClubsApart walks every operation of the contract and every topic of the live feed at
// the address of each of two clubs that are alike to the last id. A key of the other club
// is refused by all of them, its cookie opens what the public may see and nothing more, no
// answer has a word of the other club, and nothing of the other club is changed.
func TestClubsApart(t *testing.T) {
	harbour, pier := twoClubs(t)
	for _, at := range []struct {
		base, host       string
		own, other       *walker
		ownClub, theirs  string
		ownWords, others ownWords
	}{
		{"/c/harbour", "", harbour, pier, "harbour", "pier", harbourWords, pierWords},
		{"", "pier.example", pier, harbour, "pier", "harbour", pierWords, harbourWords},
		{"/c/pier", "", pier, harbour, "pier", "harbour", pierWords, harbourWords},
	} {
		t.Run(at.base+at.host, func(t *testing.T) {
			at.own.host = at.host
			defer func() { at.own.host = "" }()
			mine, public, foreign, forged := come(t, at.own, at.other, at.theirs)
			before := heads(t, at.own, at.theirs)
			seen := 0
			look := func(what string, a asker, status int, code string, got []byte) {
				t.Helper()
				if found := at.others.in(got); len(found) > 0 {
					t.Errorf("%s by %s says %q of the other club", what, a.name, found)
				}
				if status >= 500 {
					t.Errorf("%s by %s: %d %s", what, a.name, status, got)
				}
			}
			mustBelong := func(what string, a asker, status int, code string) {
				t.Helper()
				if status != http.StatusForbidden || code != "not-your-club" {
					t.Errorf("%s by %s: %d %s, want 403 not-your-club", what, a.name, status, code)
				}
			}
			for _, o := range at.own.operations() {
				path := at.base + o.path
				for _, a := range foreign {
					status, code, got := at.own.ask(a, o.method, path, o.bodyBy(a))
					look(o.name, a, status, code, got)
					mustBelong(o.name, a, status, code)
				}
				status, code, got := at.own.ask(public, o.method, path, o.bodyBy(public))
				look(o.name, public, status, code, got)
				for _, a := range forged {
					byCookie, codeBy, got := at.own.ask(a, o.method, path, o.bodyBy(a))
					look(o.name, a, byCookie, codeBy, got)
					refused := byCookie == http.StatusForbidden || byCookie == http.StatusUnauthorized
					signsIn := slices.Contains([]string{"SignIn", "SignInByName", "SignOut"}, o.name)
					asPublic := byCookie == status && codeBy == code
					if !signsIn && (o.method == http.MethodGet && !asPublic || o.method != http.MethodGet && !refused) {
						t.Errorf("%s by %s: %d %s, and the public gets %d %s", o.name, a.name, byCookie, codeBy, status, code)
					}
				}
				status, code, got = at.own.ask(mine, o.method, path, o.bodyBy(mine))
				if o.name != "ListClubs" || at.ownClub != "harbour" { // whose server it is
					look(o.name, mine, status, code, got)
				}
				if status == http.StatusForbidden && o.name != "ListClubs" && o.name != "InviteClub" || code == "no-meet" {
					t.Errorf("%s by %s: %d %s", o.name, mine.name, status, code)
				}
				seen += len(at.ownWords.in(got))
			}
			for _, path := range walkedFeeds() {
				for _, a := range foreign {
					status, code, _ := at.own.hearAs(a, at.base+path)
					mustBelong(path, a, status, code)
				}
				for _, a := range append([]asker{mine, public}, forged...) {
					status, code, got := at.own.hearAs(a, at.base+path)
					if look(path, a, status, code, got); status != http.StatusOK {
						t.Errorf("%s by %s: %d %s", path, a.name, status, code)
					}
					seen += len(at.ownWords.in(got))
				}
			}
			if seen < 20 {
				t.Errorf("the club's own words were read %d times: is this its hall?", seen)
			}
			if diff := cmp.Diff(before, heads(t, at.own, at.theirs)); diff != "" {
				t.Errorf("the other club changed (-before +after):\n%s", diff)
			}
		})
	}
}

func walkedFeeds() []string {
	out := []string{"/api/v1/practice/live?topics=practice"}
	for _, topic := range append(slices.Clone(walkedTopics), "speed/b1,board") {
		out = append(out, "/api/v1/meets/spring/live?topics="+topic)
	}
	return out
}

// TestRootOfManyClubs: a server with one club shows it at its root; one that is shared
// lists nothing of any club there to strangers, and says so. Keys speak for themselves,
// and who knows the address of a meet of the server's own club still finds it.
func TestRootOfManyClubs(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	public := func(path string) answer { return w.send(request{method: "GET", path: path}) }
	about := func() (a gen.About) {
		t.Helper()
		must(t, json.Unmarshal(public("/api/v1/about").body, &a))
		return a
	}
	lists := []string{"/api/v1/meets", "/api/v1/practice", "/api/v1/practice/sessions", "/api/v1/practice/class", "/api/v1/practice/cars/7"}
	if a := public(lists[0]); a.status != http.StatusOK || !bytes.Contains(a.body, []byte("spring")) || about().Shared != nil {
		t.Fatalf("the root of one club: %d %s, shared %v", a.status, a.body, about().Shared)
	}
	must(t, w.server.store.EnsureClub(t.Context(), store.Club{ID: "mole", Name: "imported and never invited"}))
	must(t, w.server.hosted.Look(t.Context()))
	if a := public("/c/mole/api/v1/meets"); a.problem.Code != "no-club" || about().Shared != nil {
		t.Errorf("a club that nobody invited: %d %s, shared %v", a.status, a.body, about().Shared)
	}
	w.do("POST", "/api/v1/clubs", `{"short":"pier","name":"Pier"}`)
	if about().Shared == nil {
		t.Error("the root does not say that it is shared")
	}
	for _, path := range lists {
		if a := public(path); a.status != http.StatusNotFound || a.problem.Code != "several-clubs" {
			t.Errorf("GET %s at the shared root: %d %s", path, a.status, a.body)
		}
		if a := public("/c/harbour" + path); a.status != http.StatusOK && a.problem.Code != "no-car" {
			t.Errorf("GET /c/harbour%s: %d %s", path, a.status, a.body)
		}
	}
	if a := public("/api/v1/practice/live?topics=practice"); a.problem.Code != "several-clubs" {
		t.Errorf("the feed of practice at the shared root: %d %s", a.status, a.body)
	}
	if a := public(meetPath); a.status != http.StatusOK {
		t.Errorf("a meet whose address is known: %d %s", a.status, a.body)
	}
	if a := public("/c/pier/api/v1/meets"); a.status != http.StatusOK || bytes.Contains(a.body, []byte("spring")) {
		t.Errorf("the other club's meets: %d %s", a.status, a.body)
	}
	if a := w.send(request{role: auth.Organiser, method: "GET", path: "/api/v1/meets"}); a.status != http.StatusOK {
		t.Errorf("a key at the shared root: %d %s", a.status, a.body)
	}
	for path, code := range map[string]string{
		"/c/nobody/api/v1/about": "no-club", "/c/Harbour/api/v1/meets": "no-club", "/c/a%2fb/api/v1/meets": "no-page",
		"/c/harbour/api/v1/c/pier/api/v1/meets": "no-page",
	} {
		if a := public(path); a.status != http.StatusNotFound || a.problem.Code != code {
			t.Errorf("GET %s: %d %s, want %s", path, a.status, a.body, code)
		}
	}
}

// TestCookiesOfTwoClubs: one browser may be signed in to several clubs of a server; none
// of its cookies is sent to another club's pages, and signing out of one leaves the rest.
func TestCookiesOfTwoClubs(t *testing.T) {
	w := newWired(t, "")
	var invited gen.InvitedClub
	must(t, json.Unmarshal(w.do("POST", "/api/v1/clubs", `{"short":"pier","name":"Pier"}`).body, &invited))
	_, secret, _ := strings.Cut(invited.Links[0], "#token=")
	link := func(club string) string {
		s, _, err := w.server.tokens.Make(t.Context(), auth.Wish{Club: club, Role: auth.Organiser, Label: "second laptop"})
		must(t, err)
		return s
	}
	in := func(base, token string) *http.Cookie {
		t.Helper()
		a := w.send(request{method: "POST", path: base + "/api/v1/session", body: `{"token":"` + token + `"}`})
		if a.status != http.StatusOK {
			t.Fatalf("signing in at %q: %d %s", base, a.status, a.body)
		}
		c, err := http.ParseSetCookie(a.header.Get("Set-Cookie"))
		must(t, err)
		return c
	}
	for _, wrong := range []struct{ base, token string }{{"", secret}, {"/c/harbour", secret}, {"/c/pier", link("harbour")}} {
		a := w.send(request{method: "POST", path: wrong.base + "/api/v1/session", body: `{"token":"` + wrong.token + `"}`})
		if a.status != http.StatusForbidden || a.problem.Code != "not-your-club" || a.header.Get("Set-Cookie") != "" {
			t.Errorf("a link of another club at %q: %d %s", wrong.base, a.status, a.body)
		}
	}
	root, harbour, pier := in("", link("harbour")), in("/c/harbour", link("harbour")), in("/c/pier", secret)
	for _, c := range []struct {
		got        *http.Cookie
		name, path string
	}{{root, "benchmeet", "/"}, {harbour, "benchmeet-club", "/c/harbour/"}, {pier, "benchmeet-club", "/c/pier/"}} {
		if c.got.Name != c.name || c.got.Path != c.path || !c.got.HttpOnly || c.got.SameSite != http.SameSiteStrictMode {
			t.Errorf("the cookie is %v, want %s for %s", c.got, c.name, c.path)
		}
	}
	who := func(base string, cookies ...*http.Cookie) string {
		t.Helper()
		var all []string
		for _, c := range cookies {
			if strings.HasPrefix(base+"/", c.Path) { // as RFC 6265, section 5.1.4, has browsers send it
				all = append(all, c.Name+"="+c.Value)
			}
		}
		var s gen.Session
		a := w.send(request{method: "GET", path: base + "/api/v1/session", header: map[string]string{"Cookie": strings.Join(all, "; ")}})
		must(t, json.Unmarshal(a.body, &s))
		return string(s.Role)
	}
	for _, base := range []string{"", "/c/harbour", "/c/pier"} {
		if got := who(base, root, harbour, pier); got != "organiser" {
			t.Errorf("at %q the browser is %s", base, got)
		}
	}
	if got := who("/c/pier", root, harbour); got != "public" {
		t.Errorf("with the other club's cookies the browser is %s", got)
	}
	out := w.send(request{method: "DELETE", path: "/c/pier/api/v1/session", header: map[string]string{"Cookie": pier.Name + "=" + pier.Value}})
	gone, err := http.ParseSetCookie(out.header.Get("Set-Cookie"))
	must(t, err)
	if gone.Path != "/c/pier/" || gone.Name != pier.Name || gone.MaxAge >= 0 {
		t.Errorf("signing out takes away %v", gone)
	}
	if got := who("/c/pier", root, harbour, pier); got != "public" {
		t.Errorf("signed out, the browser is %s", got)
	}
	for _, base := range []string{"", "/c/harbour"} {
		if got := who(base, root, harbour, pier); got != "organiser" {
			t.Errorf("signed out of the other club, the browser is %s at %q", got, base)
		}
	}
}
