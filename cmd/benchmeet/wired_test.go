package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
)

// wired is a server in this process with a token for each role.
type wired struct {
	t      testing.TB
	server *server
	tokens map[auth.Role]string
	orders atomic.Int64
	// words of bodies that this hall says in its own way; nil for none.
	words *strings.Replacer
}

// newWired starts a server; each of change makes it another one than usual.
func newWired(t testing.TB, database string, change ...func(*serverOptions)) *wired {
	t.Helper()
	options := serverOptions{
		Listen: "127.0.0.1:0", Data: t.TempDir(), Database: database, Scale: 1,
		Club: store.Club{ID: "harbour", Name: "Harbour Hall"},
	}
	for _, one := range change {
		one(&options)
	}
	s, err := startServer(context.Background(), options)
	if err != nil {
		t.Fatal(err)
	}
	w := &wired{t: t, server: s, tokens: map[auth.Role]string{auth.Public: ""}}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	w.giveKeys("harbour")
	return w
}

// giveKeys has the hall come as the callers of a club, one of each role.
func (w *wired) giveKeys(club string) {
	w.t.Helper()
	for _, role := range auth.Roles() {
		wish := auth.Wish{Club: club, Role: role, Label: string(role)}
		if role.AtBenches() {
			wish.Benches = []string{"b1", "b2"}
		}
		secret, _, err := w.server.tokens.Make(context.Background(), wish)
		if err != nil {
			w.t.Fatal(err)
		}
		w.tokens[role] = secret
	}
}

// request is one request to a wired server.
type request struct {
	role   auth.Role
	token  string // instead of the role's
	method string
	path   string
	key    string // empty draws one
	body   string
	header map[string]string
}

// answer is what came back.
type answer struct {
	status  int
	kind    string // content type
	body    []byte
	problem gen.Problem
	header  http.Header
}

func (w *wired) send(r request) answer {
	w.t.Helper()
	if w.words != nil {
		r.body = w.words.Replace(r.body)
	}
	req, err := http.NewRequest(r.method, w.server.url()+r.path, bytes.NewReader([]byte(r.body)))
	if err != nil {
		w.t.Fatal(err)
	}
	token := r.token
	if token == "" {
		token = w.tokens[r.role]
	}
	if token != "" {
		req.Header.Set("Authorization", "Bearer "+token)
	}
	if r.key == "" {
		r.key = fmt.Sprintf("01890000-0000-7000-8000-%012d", w.orders.Add(1))
	}
	if r.key != "none" {
		req.Header.Set("Idempotency-Key", r.key)
	}
	if r.body != "" {
		req.Header.Set("Content-Type", "application/json")
	}
	for name, value := range r.header {
		req.Header.Set(name, value)
	}
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		w.t.Fatal(err)
	}
	defer res.Body.Close()
	out := answer{status: res.StatusCode, kind: res.Header.Get("Content-Type"), header: res.Header}
	if out.body, err = io.ReadAll(res.Body); err != nil {
		w.t.Fatal(err)
	}
	if out.status >= 400 {
		if err := json.Unmarshal(out.body, &out.problem); err != nil {
			w.t.Fatalf("%s %s: %d is no problem+json: %s", r.method, r.path, out.status, out.body)
		}
	}
	return out
}

// do sends an order that has to be carried out.
func (w *wired) do(method, path, body string) answer {
	w.t.Helper()
	a := w.send(request{role: auth.Organiser, method: method, path: path, body: body})
	if a.status >= 300 {
		w.t.Fatalf("%s %s: %d %s", method, path, a.status, a.body)
	}
	return a
}

// get reads a page as an official.
func (w *wired) get(path string, into any) {
	w.t.Helper()
	a := w.send(request{role: auth.Organiser, method: http.MethodGet, path: path})
	if a.status != http.StatusOK {
		w.t.Fatalf("GET %s: %d %s", path, a.status, a.body)
	}
	if err := json.Unmarshal(a.body, into); err != nil {
		w.t.Fatal(err)
	}
}

// smallMeet plans the meet "spring" with two benches and four entries that are
// checked in, drawn for a knockout, first heat called to both benches.
func (w *wired) smallMeet() {
	w.t.Helper()
	w.smallMeetWith("")
}

// smallMeetWith is the same by rules that are not the usual ones.
func (w *wired) smallMeetWith(rules string) {
	w.t.Helper()
	w.smallMeetOf(rules, "")
}

// smallMeetOf is the same with a class that asks for more.
func (w *wired) smallMeetOf(rules, class string) {
	w.t.Helper()
	w.do("POST", "/api/v1/meets", `{"id":"spring","plan":{"name":"Harbour Hall spring meet","date":"2027-04-17"}`+rules+`}`)
	for i := 1; i <= 2; i++ {
		w.do("PUT", fmt.Sprintf("/api/v1/benches/b%d", i), fmt.Sprintf(`{"number":%d,"circumference_mm":94.25}`, i))
		w.do("PUT", fmt.Sprintf("/api/v1/meets/spring/benches/b%d", i), "")
	}
	w.do("PUT", "/api/v1/meets/spring/divisions/open", `{"name":"Open","age_from":0,"age_to":0,
		"class":{"name":"Open class","lap_m":1`+class+`},"stages":[{"kind":"knockout","race_s":10,"lanes":2}]}`)
	for i := 1; i <= 4; i++ {
		w.do("POST", "/api/v1/meets/spring/entries", fmt.Sprintf(`{"id":"e%d","division":"open","start_number":%d,
			"person":{"name":"Child %d Quay","display_name":"Nick %d","on_screen":true,"in_results":true,"photo":false}}`, i, i, i, i))
		w.do("POST", fmt.Sprintf("/api/v1/meets/spring/entries/e%d/check-in", i), `{"there":true}`)
	}
	w.do("POST", "/api/v1/meets/spring/divisions/open/entries-closed", `{"closed":true}`)
	w.do("POST", "/api/v1/meets/spring/divisions/open/draw", "")
	w.do("POST", "/api/v1/meets/spring/heats/open-1.1.1/call", `{"benches":["b1","b2"]}`)
}

// position is the head of the meet's log and of the club's.
func (w *wired) position() string {
	w.t.Helper()
	heads, err := w.server.store.Streams(context.Background(), "harbour")
	if err != nil {
		w.t.Fatal(err)
	}
	return fmt.Sprint(heads)
}

// startFirstHeat gets both cars of the first heat ready and starts it.
func (w *wired) startFirstHeat() gen.Heat {
	w.t.Helper()
	h := w.heat("open-1.1.1")
	for _, l := range h.Lanes {
		w.do("POST", "/api/v1/meets/spring/heats/"+h.Id+"/ready",
			fmt.Sprintf(`{"bench":%q,"start_number":%d}`, *l.Bench, l.Racer.StartNumber))
	}
	w.do("POST", "/api/v1/meets/spring/heats/"+h.Id+"/start", "")
	return w.heat(h.Id)
}

func (w *wired) heat(id string) gen.Heat {
	w.t.Helper()
	var list gen.HeatList
	w.get("/api/v1/meets/spring/heats", &list)
	for _, h := range list.Heats {
		if h.Id == id {
			return h
		}
	}
	w.t.Fatalf("heat %s is not in the list", id)
	return gen.Heat{}
}

// sendRun sends a whole run of ten seconds at a steady speed in one chunk.
func (w *wired) sendRun(bench, run, boot string, periodUS int64) answer {
	w.t.Helper()
	stamps := []int64{}
	for at := int64(1_000_500); at < 11_100_000; at += periodUS {
		stamps = append(stamps, at)
	}
	return w.sendStamps(bench, run, boot, stamps)
}

// practise sends a practice run of ten seconds.
func (w *wired) practise(bench, run, boot string, periodUS int64) answer {
	w.t.Helper()
	stamps := []int64{}
	for at := int64(1_000_500); at < 11_100_000; at += periodUS {
		stamps = append(stamps, at)
	}
	return w.sendTo("", bench, run, boot, stamps)
}

// sendStamps sends a whole run of ten seconds, which began at 1 s by the box's
// clock, in one chunk.
func (w *wired) sendStamps(bench, run, boot string, stamps []int64) answer {
	w.t.Helper()
	return w.sendTo("spring", bench, run, boot, stamps)
}

// sendTo is sendStamps for a meet, or for practice where it is empty.
func (w *wired) sendTo(meet, bench, run, boot string, stamps []int64) answer {
	w.t.Helper()
	last := map[string]any{
		"chunks": 1, "stamps": len(stamps), "start_source": "bench_clock", "start_us": 1_000_000, "duration_us": 10_000_000,
	}
	if meet != "" {
		last["meet"] = meet
	}
	body, err := json.Marshal(map[string]any{"boot": boot, "run": run, "number": 0, "stamps_us": stamps, "last": last})
	if err != nil {
		w.t.Fatal(err)
	}
	a := w.send(request{role: auth.Box, method: "POST", path: "/api/v1/benches/" + bench + "/chunks", body: string(body)})
	if a.status != http.StatusOK {
		w.t.Fatalf("chunk of %s: %d %s", run, a.status, a.body)
	}
	return a
}
