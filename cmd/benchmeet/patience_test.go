package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/auth"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// answerTo sends bytes as they are and returns the answer's first line.
func (w *wired) answerTo(text string) (string, net.Conn) {
	w.t.Helper()
	conn, err := net.Dial("tcp", w.server.address.String())
	if err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(func() { conn.Close() })
	if _, err := io.WriteString(conn, text); err != nil {
		w.t.Fatal(err)
	}
	if err := conn.SetReadDeadline(time.Now().Add(5 * time.Second)); err != nil {
		w.t.Fatal(err)
	}
	line, err := bufio.NewReader(conn).ReadString('\n')
	if err != nil {
		w.t.Errorf("%.60q was not answered: %v", text, err)
	}
	return strings.TrimSpace(line), conn
}

// TestCallerIsKnownBeforeTheBody: who may not do a thing hears it before the body
// was sent, and a body that is too long for its sender is not waited for.
func TestCallerIsKnownBeforeTheBody(t *testing.T) {
	w := newWired(t, "")
	post := func(path, token string, length int) string {
		head := "POST " + path + " HTTP/1.1\r\nHost: hall\r\nContent-Type: application/json\r\nIdempotency-Key: " + orderID(1) + "\r\n"
		if token != "" {
			head += "Authorization: Bearer " + token + "\r\n"
		}
		return head + fmt.Sprintf("Content-Length: %d\r\n\r\n{", length)
	}
	for _, tt := range []struct {
		what, text, want string
	}{
		{"a stranger orders", post("/api/v1/meets", "", 400_000), "401"},
		{"a box plans a meet", post("/api/v1/meets", w.tokens[auth.Box], 400_000), "403"},
		{"nothing is there", post("/api/v1/weather", "", 400_000), "404"},
		{"a sign-in of a megabyte", post("/api/v1/session", "", 1_000_000), "413"},
		{"a sign-in of 5 kB", post("/api/v1/session", "", 5_000), "413"},
		{"a chunk of a megabyte", post("/api/v1/benches/b1/chunks", w.tokens[auth.Box], 1_000_000), "413"},
		{"an endless header", "GET /api/v1/meets HTTP/1.1\r\nHost: hall\r\nX: " + strings.Repeat("x", 40_000) + "\r\n\r\n", "431"},
	} {
		if line, _ := w.answerTo(tt.text); !strings.Contains(line, tt.want) {
			t.Errorf("%s: %q, want %s", tt.what, line, tt.want)
		}
	}
}

// TestSlowButNotSilent: a signed-in phone in a bad network may take longer over a
// body than a stranger may over a request, as long as it goes on sending.
func TestSlowButNotSilent(t *testing.T) {
	t.Parallel() // it mostly waits
	w := newWired(t, "")
	began := time.Now()
	body := `{"boot":"00000000000000aa","run":"r1","number":0,"stamps_us":[1,2,3]}`
	_, port, _ := net.SplitHostPort(w.server.address.String())
	conn, err := net.Dial("tcp", "127.0.0.1:"+port)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	fmt.Fprintf(conn, "POST /api/v1/benches/b1/chunks HTTP/1.1\r\nHost: hall\r\nAuthorization: Bearer %s\r\nContent-Length: %d\r\n\r\n",
		w.tokens[auth.Box], len(body))
	pieces := []string{body[:20], body[20:40], body[40:60], body[60:]}
	for _, piece := range pieces {
		time.Sleep((requestWithin + 3*time.Second) / time.Duration(len(pieces)))
		if _, err := io.WriteString(conn, piece); err != nil {
			t.Fatal(err)
		}
	}
	_ = conn.SetReadDeadline(time.Now().Add(5 * time.Second))
	line, err := bufio.NewReader(conn).ReadString('\n')
	if err != nil || !strings.Contains(line, "200") || time.Since(began) < requestWithin {
		t.Errorf("after %v: %q %v", time.Since(began), line, err)
	}
}

// stuck is a store that is slow or breaks, as a test says.
type stuck struct {
	store.Store
	mu    sync.Mutex
	read  func(ctx context.Context) error // before each record after the first
	write func()                          // in the middle of a write
	fault bool                            // in the people
}

func (s *stuck) Read(ctx context.Context, stream store.Stream, after int64, each func(journal.Record) error) error {
	s.mu.Lock()
	hook := s.read
	s.mu.Unlock()
	n := 0
	return s.Store.Read(ctx, stream, after, func(r journal.Record) error {
		if n++; hook != nil && n > 1 {
			if err := hook(ctx); err != nil {
				return err
			}
		}
		return each(r)
	})
}

func (s *stuck) Write(ctx context.Context, stream store.Stream, fn func(store.Tx) error) error {
	s.mu.Lock()
	hook := s.write
	s.mu.Unlock()
	if hook != nil {
		hook()
	}
	return s.Store.Write(ctx, stream, fn)
}

// newStuck is a wired server over such a store, with what it logs.
func newStuck(t *testing.T) (*wired, *stuck, *lockedBuffer) {
	t.Helper()
	db, err := openStore(t.Context(), "", t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	said := &lockedBuffer{}
	slow := &stuck{Store: db}
	s := &server{
		options: serverOptions{
			Listen: "127.0.0.1:0", Scale: 1, Club: store.Club{ID: "harbour", Name: "Harbour Hall"}, Log: slog.New(slog.NewTextHandler(said, nil)),
		},
		store: slow, clock: newClock(1, nil), beside: newBeside(), ended: make(chan error, 2),
	}
	if err := s.wire(t.Context()); err != nil {
		t.Fatal(err)
	}
	w := &wired{t: t, server: s, tokens: map[auth.Role]string{}}
	for _, role := range auth.Roles() {
		wish := auth.Wish{Club: "harbour", Role: role, Label: string(role)}
		if role == auth.Volunteer || role == auth.Box {
			wish.Benches = []string{"b1", "b2"}
		}
		if w.tokens[role], _, err = s.tokens.Make(t.Context(), wish); err != nil {
			t.Fatal(err)
		}
	}
	return w, slow, said
}

// TestCutLogNeverLooksWhole: where the log breaks off in the middle, the transfer
// does too, packed or not.
func TestCutLogNeverLooksWhole(t *testing.T) {
	w, slow, _ := newStuck(t)
	defer w.server.Close()
	w.smallMeet()
	slow.mu.Lock()
	var n atomic.Int64 // several downloads read at the same time
	slow.read = func(context.Context) error {
		if n.Add(1)%10 == 9 {
			return errors.New("the drive is gone")
		}
		return nil
	}
	slow.mu.Unlock()
	for _, coding := range []string{"identity", "gzip"} {
		r, _ := http.NewRequest(http.MethodGet, w.server.url()+meetPath+"/log", nil)
		r.Header.Set("Accept-Encoding", coding)
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			continue // cut before the answer's head: it does not look whole either
		}
		if _, err := io.Copy(io.Discard, res.Body); err == nil && res.StatusCode == http.StatusOK {
			t.Errorf("%s: the cut log looks whole", coding)
		}
		res.Body.Close()
	}
}

// TestContextsThatEndAreNoFaults: neither a caller that goes away nor a position
// that does not come is logged as an error or answered with 500.
func TestContextsThatEndAreNoFaults(t *testing.T) {
	w, _, said := newStuck(t)
	defer w.server.Close()
	w.smallMeet()
	began := time.Now()
	far := w.send(request{method: "GET", path: meetPath + "/board?at_least=9007199254740991"})
	if far.status != http.StatusConflict || far.problem.Code != "log-behind" || time.Since(began) > time.Second {
		t.Errorf("far ahead: %d %s after %v", far.status, far.body, time.Since(began))
	}
	near := w.send(request{method: "GET", path: meetPath + "/board?at_least=10000"})
	if near.status != http.StatusServiceUnavailable || near.problem.Code != "log-behind" || near.header.Get("Retry-After") == "" {
		t.Errorf("a little ahead: %d %s", near.status, near.body)
	}
	var waiting sync.WaitGroup
	for range 20 { // who waits for a position takes nobody's turn
		waiting.Go(func() {
			if res, err := http.Get(w.server.url() + meetPath + "/board?at_least=10000"); err == nil {
				res.Body.Close()
			}
		})
	}
	time.Sleep(200 * time.Millisecond)
	began = time.Now()
	if a := w.send(request{method: "GET", path: meetPath + "/board"}); a.status != http.StatusOK || time.Since(began) > time.Second {
		t.Errorf("beside those who wait: %d after %v", a.status, time.Since(began))
	}
	waiting.Wait()
	ctx, stop := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer stop()
	r, _ := http.NewRequestWithContext(ctx, http.MethodGet, w.server.url()+meetPath+"/board?at_least=10000", nil)
	if res, err := http.DefaultClient.Do(r); err == nil {
		res.Body.Close()
		t.Error("the answer came before the caller went away")
	}
	time.Sleep(200 * time.Millisecond)
	if text := said.String(); strings.Contains(text, "level=ERROR") {
		t.Errorf("logged as errors:\n%s", text)
	}
}

// AllPeople breaks where a test says so.
func (s *stuck) AllPeople(ctx context.Context, club string) ([]store.Person, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fault {
		panic("a person without a case")
	}
	return s.Store.AllPeople(ctx, club)
}

// TestFaultFailsItsRequestAlone: a panic gets an answer that says so and a line in
// the server's log, a listener's room outlives it too, and the server goes on.
func TestFaultFailsItsRequestAlone(t *testing.T) {
	w, slow, said := newStuck(t)
	defer w.server.Close()
	w.smallMeet()
	f := w.listen(meetPath+"/live", "board")
	f.until("board", func(int64, json.RawMessage) bool { return true })
	time.Sleep(1100 * time.Millisecond) // names are kept for a second
	fault := func(is bool) {
		slow.mu.Lock()
		defer slow.mu.Unlock()
		slow.fault = is
	}
	fault(true)
	a := w.send(request{role: auth.Organiser, method: "GET", path: "/api/v1/people"})
	if a.status != http.StatusInternalServerError || a.problem.Code != "internal" {
		t.Errorf("%d %s", a.status, a.body)
	}
	w.do("POST", meetPath+"/pause", `{"reason":{"code":"lunch"}}`) // the room meets the fault
	for range 100 {
		if strings.Contains(said.String(), "topics could not be read") {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	for _, line := range []string{"path=/api/v1/people", "a person without a case", "topics could not be read"} {
		if !strings.Contains(said.String(), line) {
			t.Errorf("the log does not say %q:\n%s", line, said)
		}
	}
	fault(false)
	w.do("POST", meetPath+"/resume", "")
	f.until("board", func(_ int64, data json.RawMessage) bool { return strings.Contains(string(data), `"paused":false`) })
}

// TestEndsWithinFiveSeconds: neither a write that hangs, nor a listener that does
// not read, nor a request under way holds the end up.
func TestEndsWithinFiveSeconds(t *testing.T) {
	w, slow, _ := newStuck(t)
	w.smallMeet()
	w.listen(meetPath+"/live", "board,meet") // never read
	goOn := make(chan struct{})
	hangs := make(chan struct{}, 10)
	slow.mu.Lock()
	slow.write = func() { hangs <- struct{}{}; <-goOn }
	slow.mu.Unlock()
	go func() {
		r, _ := http.NewRequest(http.MethodPost, w.server.url()+meetPath+"/pause", strings.NewReader(`{"reason":{"code":"lunch"}}`))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Authorization", "Bearer "+w.tokens[auth.Organiser])
		r.Header.Set("Idempotency-Key", orderID(900))
		if res, err := http.DefaultClient.Do(r); err == nil {
			res.Body.Close()
		}
	}()
	<-hangs
	began := time.Now()
	_ = w.server.Close() // it may say that the database hangs
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("the server ended after %v", took)
	}
	close(goOn)
	if err := slow.Store.Close(); err != nil { // before the folder goes
		t.Error(err)
	}
}

// TestDamagedMeetStopsNoOther: with one bit of an old meet turned over, today's
// meet is listed, benches get their orders, practice is armed, and the old meet
// says what is wrong.
func TestDamagedMeetStopsNoOther(t *testing.T) {
	data := t.TempDir()
	start := func() *wired {
		s, err := startServer(
			t.Context(), serverOptions{Listen: "127.0.0.1:0", Data: data, Scale: 1, Club: store.Club{ID: "harbour", Name: "Harbour Hall"}},
		)
		if err != nil {
			t.Fatal(err)
		}
		w := &wired{t: t, server: s, tokens: map[auth.Role]string{}}
		for _, role := range []auth.Role{auth.Organiser, auth.Box} {
			wish := auth.Wish{Club: "harbour", Role: role, Label: "test"}
			if role == auth.Box {
				wish.Benches = []string{"b1", "b2"}
			}
			if w.tokens[role], _, err = s.tokens.Make(t.Context(), wish); err != nil {
				t.Fatal(err)
			}
		}
		return w
	}
	w := start()
	w.do("POST", "/api/v1/meets", `{"id":"autumn","plan":{"name":"Harbour Hall autumn meet","date":"2026-10-17"}}`)
	w.orders.Store(50)
	w.smallMeet()
	if err := w.server.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite", filepath.Join(data, databaseFile))
	if err != nil {
		t.Fatal(err)
	}
	for _, statement := range []string{
		`DROP TRIGGER events_are_never_changed`,
		`UPDATE events SET bytes = CAST(replace(CAST(bytes AS TEXT), 'autumn meet', 'autumn Meet') AS BLOB) WHERE stream = 'meet/autumn' AND seq = 1`,
	} {
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	w = start()
	defer w.server.Close()
	w.orders.Store(500)
	list := w.send(request{method: "GET", path: "/api/v1/meets"})
	if list.status != http.StatusOK || !strings.Contains(string(list.body), `"spring"`) {
		t.Errorf("the list: %d %s", list.status, list.body)
	}
	order := w.send(request{role: auth.Box, method: "GET", path: "/api/v1/benches/b1/order"})
	if order.status != http.StatusOK || !strings.Contains(string(order.body), "open-1.1.1") {
		t.Errorf("the order: %d %s", order.status, order.body)
	}
	w.do("PUT", "/api/v1/benches/b3", `{"number":3,"circumference_mm":94.25}`)
	w.do("POST", "/api/v1/benches/b3/practice", `{"race_s":5}`)
	old := w.send(request{method: "GET", path: "/api/v1/meets/autumn"})
	if old.status != http.StatusInternalServerError || old.problem.Code != "log-damaged" {
		t.Errorf("the damaged meet: %d %s", old.status, old.body)
	}
	if err := w.server.ratings.Sweep(t.Context(), "harbour"); err != nil {
		t.Errorf("ratings: %v", err)
	}
	w.startFirstHeat()
}

// TestProxiesByName: who asks is what a named proxy says, and never what anybody
// else writes.
func TestProxiesByName(t *testing.T) {
	named, err := readProxies([]string{"10.0.0.7", "192.168.5.0/24"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ from, says, want string }{
		{"172.16.0.9:80", "203.0.113.5", "172.16.0.9"},
		{"10.0.0.7:80", "203.0.113.5", "203.0.113.5"},
		{"10.0.0.7:80", "198.51.100.1, 203.0.113.5", "203.0.113.5"}, // the first is the asker's own word
		{"10.0.0.7:80", "203.0.113.5, 192.168.5.3", "203.0.113.5"},
		{"10.0.0.7:80", "", "10.0.0.7"},
		{"10.0.0.7:80", "nobody", "10.0.0.7"},
		{"[::ffff:10.0.0.7]:80", "2001:db8::1", "2001:db8::1"},
	} {
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.RemoteAddr = tt.from
		if tt.says != "" {
			r.Header.Set("X-Forwarded-For", tt.says)
		}
		if got := named.asker(r); got != tt.want {
			t.Errorf("%s for %q: %s, want %s", tt.from, tt.says, got, tt.want)
		}
	}
	if _, err := readProxies([]string{"the-proxy"}); err == nil || !strings.Contains(err.Error(), "the-proxy") {
		t.Errorf("got %v", err)
	}
}

// TestSharesOfTheFeed: one address cannot have all places, and a phone that is
// signed in gets in beside it.
func TestSharesOfTheFeed(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	url := "ws" + strings.TrimPrefix(w.server.url(), "http") + meetPath + "/live?topics=board"
	in, refused := 0, 0
	for range 620 {
		conn, res, err := websocket.DefaultDialer.Dial(url, nil)
		if err != nil {
			if res == nil || res.StatusCode != http.StatusTooManyRequests {
				t.Fatalf("%v %v", res, err)
			}
			refused++
			continue
		}
		in++
		t.Cleanup(func() { conn.Close() })
	}
	if in != 600 || refused != 20 {
		t.Errorf("%d of one address got in, %d did not", in, refused)
	}
	conn, _, err := websocket.DefaultDialer.Dial(url, http.Header{"Authorization": {"Bearer " + w.tokens[auth.Volunteer]}})
	if err != nil {
		t.Fatalf("a signed-in phone: %v", err)
	}
	conn.Close()
}

// TestAnswersArePacked for those who unpack them, small ones and orders' receipts
// as they are.
func TestAnswersArePacked(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	get := func(path, accept string) *http.Response {
		r, _ := http.NewRequest(http.MethodGet, w.server.url()+path, nil)
		r.Header.Set("Accept-Encoding", accept)
		res, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { res.Body.Close() })
		return res
	}
	plain := get(meetPath+"/log", "identity")
	whole, err := io.ReadAll(plain.Body)
	if err != nil || plain.Header.Get("Content-Encoding") != "" {
		t.Fatalf("plain: %v %v", plain.Header, err)
	}
	packed := get(meetPath+"/log", "gzip")
	small, err := io.ReadAll(packed.Body)
	if err != nil || packed.Header.Get("Content-Encoding") != "gzip" || packed.Header.Get("Vary") != "Accept-Encoding" {
		t.Fatalf("packed: %v %v", packed.Header, err)
	}
	if 2*len(small) > len(whole) {
		t.Errorf("%d bytes packed, %d plain", len(small), len(whole))
	}
	unpack, err := gzip.NewReader(bytes.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	if again, err := io.ReadAll(unpack); err != nil || !bytes.Equal(again, whole) {
		t.Errorf("unpacked it is another answer: %v", err)
	}
}
