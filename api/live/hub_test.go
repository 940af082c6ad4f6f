package live

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/view"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// venue is a hub over the planned meet "spring", behind a server.
type venue struct {
	t      *testing.T
	hub    *Hub
	meets  *ledger.OfMeets
	stream store.Stream
	url    string
	orders int
	errs   chan error // what serving returned
}

func newVenue(t *testing.T, most int) *venue {
	t.Helper()
	s, err := sqlite.Open(t.Context(), filepath.Join(t.TempDir(), "meet.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if err := s.EnsureClub(t.Context(), store.Club{ID: "harbour"}); err != nil {
		t.Fatal(err)
	}
	v := &venue{
		t: t, meets: ledger.New(ledger.Meets(), ledger.Options{Logs: s}), stream: store.MeetStream("harbour", "spring"),
		errs: make(chan error, 1000),
	}
	t.Cleanup(v.meets.Close)
	clubs := ledger.New(ledger.Clubs(), ledger.Options{Logs: s})
	t.Cleanup(clubs.Close)
	v.hub = New(Options{Meets: v.meets, Clubs: clubs, Names: view.NewDirectory(s), Most: most})
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var err error
		if r.URL.Path == "/practice" {
			err = v.hub.ServePractice(w, r, v.who(r), "harbour")
		} else {
			err = v.hub.ServeMeet(w, r, v.who(r), "harbour", strings.TrimPrefix(r.URL.Path, "/"))
		}
		var no *refusal.Refusal
		if errors.As(err, &no) {
			http.Error(w, no.Error(), refused)
		}
		v.errs <- err
	}))
	t.Cleanup(server.Close)
	t.Cleanup(v.hub.Close)
	v.url = "ws" + strings.TrimPrefix(server.URL, "http")
	v.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()})
	return v
}

// who is a caller as the test's headers say.
func (v *venue) who(r *http.Request) Who {
	return Who{Address: r.Header.Get("Test-Address"), Caller: r.Header.Get("Test-Caller")}
}

func (v *venue) give(c meet.Command) {
	v.t.Helper()
	v.orders++
	o := ledger.Order[meet.Command]{ID: string(rune('0' + v.orders)), Content: []byte{1}, Actor: "referee", Command: c}
	if _, err := v.meets.Do(v.t.Context(), v.stream, o); err != nil {
		v.t.Fatal(err)
	}
}

func (v *venue) dial(path string) *websocket.Conn {
	v.t.Helper()
	conn, res, err := websocket.DefaultDialer.Dial(v.url+path, nil)
	if err != nil {
		v.t.Fatalf("%s: %v", path, err)
	}
	res.Body.Close()
	v.t.Cleanup(func() { _ = conn.Close() })
	if err := conn.SetReadDeadline(time.Now().Add(20 * time.Second)); err != nil {
		v.t.Fatal(err)
	}
	return conn
}

// got is a frame as a listener reads it.
type got struct {
	Topic string          `json:"topic"`
	Seq   *int64          `json:"seq"`
	Data  json.RawMessage `json:"data"`
}

// read is the next frame that says something.
func (v *venue) read(conn *websocket.Conn) got {
	v.t.Helper()
	for {
		var f got
		if err := conn.ReadJSON(&f); err != nil {
			v.t.Fatal(err)
		}
		if f.Topic != "still" {
			return f
		}
	}
}

// rooms waits until the hub has so many rooms.
func (v *venue) rooms(n int) {
	v.t.Helper()
	for range 2000 {
		v.hub.mu.Lock()
		have := len(v.hub.rooms)
		v.hub.mu.Unlock()
		if have == n {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	v.t.Fatalf("the hub does not come to %d rooms", n)
}

// TestListener: a listener gets its topics whole when it comes, then each change
// with its position in the frame and in the data, and live speed without one. The
// room ends with its last listener.
func TestListener(t *testing.T) {
	v := newVenue(t, 0)
	conn := v.dial("/spring?topics=meet,board,speed/b1") // the bench may be added later
	topics := map[string]bool{}
	for range 2 {
		topics[v.read(conn).Topic] = true
	}
	if !topics["meet"] || !topics["board"] {
		t.Errorf("on coming it got %v", topics)
	}
	v.give(meet.Pause{Reason: day.Reason{Code: day.ReasonLunch}})
	for seen := 0; seen < 2; {
		f := v.read(conn)
		var data struct {
			Seq    int64  `json:"seq"`
			Head   string `json:"head"`
			Paused bool   `json:"paused"`
		}
		if err := json.Unmarshal(f.Data, &data); err != nil || f.Seq == nil || *f.Seq != 2 || data.Seq != 2 || !data.Paused {
			t.Errorf("%s: %+v %v", f.Topic, data, err)
		}
		snapshot, err := v.meets.At(t.Context(), v.stream, 2)
		if err != nil || f.Topic == "meet" && data.Head != snapshot.Head.Hash.String() {
			t.Errorf("the meet's frame is of head %s, want %s (%v)", data.Head, snapshot.Head.Hash, err)
		}
		seen++
	}
	v.hub.Speed(intake.Speed{Club: "harbour", Meet: "spring", Bench: "b2", RPM: 1})
	v.hub.Speed(intake.Speed{Club: "harbour", Meet: "spring", Bench: "b1", RPM: 8000})
	f := v.read(conn)
	var speed gen.LiveSpeed
	if err := json.Unmarshal(f.Data, &speed); err != nil || f.Topic != "speed/b1" || f.Seq != nil || speed.Rpm != 8000 {
		t.Errorf("live speed came as %s %s", f.Topic, f.Data)
	}
	v.hub.Speed(intake.Speed{Club: "harbour", Bench: "b1"}) // nobody listens to practice
	other := v.dial("/practice?topics=practice")
	v.read(other)
	v.rooms(2)
	_ = conn.Close()
	v.rooms(1)
	_ = other.Close()
	v.rooms(0)
}

// TestHubIsFull: one too many is told so, and may come when another leaves.
func TestHubIsFull(t *testing.T) {
	v := newVenue(t, 2)
	first := v.dial("/spring?topics=board")
	v.dial("/spring?topics=board")
	_, res, err := websocket.DefaultDialer.Dial(v.url+"/spring?topics=board", nil)
	if err == nil || res == nil || res.StatusCode != refused {
		t.Fatalf("the third was let in: %v %v", res, err)
	}
	var no *refusal.Refusal
	if err := errors.Join(<-v.errs, <-v.errs, <-v.errs); !errors.As(err, &no) || no.Code != "feed-full" {
		t.Errorf("got %v", err)
	}
	_ = first.Close()
	for v.hub.Listeners() == 2 {
		time.Sleep(time.Millisecond)
	}
	v.dial("/spring?topics=board")
}

// TestTopicsThatCannotBe are refused before the upgrade.
func TestTopicsThatCannotBe(t *testing.T) {
	v := newVenue(t, 0)
	for _, tt := range []struct {
		path, code string
	}{
		{"/autumn?topics=board", "no-meet"},
		{"/spring?topics=", "bad-topic"},
		{"/spring?topics=board/1", "bad-topic"},
		{"/spring?topics=standings", "bad-topic"},
		{"/spring?topics=bench/", "bad-topic"},
		{"/spring?topics=practice", "bad-topic"},
		{"/spring?topics=" + strings.Repeat("board,", mostTopics) + "board", "many-topics"},
		{"/spring?topics=board,bench/" + strings.Repeat("x", 65), "bad-topic"},
		{"/spring?topics=standings/n1,standings/n2", "bad-topic"}, // nothing of it is there
		{"/spring?topics=board,bench/1,bench/2,bench/3,bench/4,bench/5", "bad-topic"},
		{"/spring?topics=" + strings.Repeat("x", 900_000), "many-topics"},
		{"/practice?topics=board", "bad-topic"},
		{"/practice?topics=speed/", "bad-topic"},
	} {
		if _, _, err := websocket.DefaultDialer.Dial(v.url+tt.path, nil); err == nil {
			t.Errorf("%s was let in", tt.path)
		}
		var no *refusal.Refusal
		if err := <-v.errs; !errors.As(err, &no) || no.Code != refusal.Code(tt.code) {
			t.Errorf("%s: %v, want %s", tt.path, err, tt.code)
		}
	}
}

// refused is the status of every refusal here: api/rest has the real ones.
const refused = http.StatusTeapot

// TestCloseSaysGoodbye also to one that reads late, and is not held up by one that
// never reads and whose connection is full.
func TestCloseSaysGoodbye(t *testing.T) {
	v := newVenue(t, 0)
	deaf := v.dial("/spring?topics=board,speed")
	reads := v.dial("/spring?topics=board")
	v.read(reads)
	v.read(deaf)
	v.hub.mu.Lock()
	in := v.hub.rooms[v.stream]
	v.hub.mu.Unlock()
	big := bytes.Repeat([]byte("x"), 16<<20)
	for range 3 { // more than the system takes for one that does not read
		in.telemetry("speed", &frame{topic: "speed/b1", plain: big})
		time.Sleep(2 * telemetryEvery)
	}
	ctx, stop := context.WithTimeout(t.Context(), 8*time.Second) // less than a frame may take
	defer stop()
	closed := make(chan struct{})
	go func() {
		v.hub.Close()
		close(closed)
	}()
	if err := ends(reads); !websocket.IsCloseError(err, websocket.CloseGoingAway) {
		t.Errorf("the connection ended with %v", err)
	}
	select {
	case <-closed:
	case <-ctx.Done():
		t.Error("one that never reads holds up the end")
	}
	_ = reads.Close()
	if _, res, err := websocket.DefaultDialer.Dial(v.url+"/spring?topics=board", nil); err == nil || res == nil || res.StatusCode != refused {
		t.Errorf("a closed hub lets in: %v", err)
	}
}

// ends reads a connection to its end and says how it ended.
func ends(conn *websocket.Conn) error {
	for {
		if _, _, err := conn.ReadMessage(); err != nil {
			return err
		}
	}
}

// TestDeafListenerHoldsNobodyUp: changes reach those who read while another
// does not.
func TestDeafListenerHoldsNobodyUp(t *testing.T) {
	v := newVenue(t, 0)
	v.dial("/spring?topics=meet,board") // never read
	reads := v.dial("/spring?topics=meet")
	for range 10 {
		v.give(meet.Pause{Reason: day.Reason{Code: day.ReasonLunch}})
		v.give(meet.Resume{})
	}
	// Changes that follow at once are shown together, so only one that leaves the meet
	// otherwise than it ever was is sure to be shown.
	v.give(meet.ChangePlan{Plan: day.Plan{Name: "Harbour Hall autumn meet", Date: "2027-10-02"}})
	for last := int64(0); last < 22; {
		f := v.read(reads)
		if *f.Seq < last {
			t.Fatalf("position %d came after %d", *f.Seq, last)
		}
		last = *f.Seq
	}
}

// TestNamesChanged: a room is renewed though its meet has no new event.
func TestNamesChanged(t *testing.T) {
	v := newVenue(t, 0)
	conn := v.dial("/spring?topics=board")
	v.read(conn)
	v.hub.mu.Lock()
	in := v.hub.rooms[v.stream]
	v.hub.mu.Unlock()
	in.updating.Lock()
	in.topics["board"].text = nil // as if a name had changed
	in.updating.Unlock()
	v.hub.NamesChanged("pier")
	v.hub.NamesChanged("harbour")
	if f := v.read(conn); f.Topic != "board" || *f.Seq != 1 {
		t.Errorf("got %+v", f)
	}
}

// TestPlacesAreShared: strangers of one address have no more than its share, all
// strangers together not all, and who is signed in comes in all the same.
func TestPlacesAreShared(t *testing.T) {
	p := newPlaces(16, 6)
	take := func(want string, who Who) {
		t.Helper()
		got := ""
		var no *refusal.Refusal
		if errors.As(p.take(who), &no) {
			got = string(no.Code)
		}
		if got != want {
			t.Errorf("%+v: %q, want %q", who, got, want)
		}
	}
	one, bench := Who{Address: "10.0.0.1"}, Who{Address: "10.0.0.1", Caller: "bench-1"}
	for range 6 {
		take("", one)
	}
	take("feed-share", one)
	for i := range 8 {
		take("", Who{Address: fmt.Sprintf("2001:db8:0:%x::1", i/6)})
	}
	take("feed-full", Who{Address: "10.0.0.2"}) // two of 16 are kept
	take("", bench)
	take("", bench)
	take("feed-full", bench)
	p.free(one)
	take("", Who{Address: "10.0.0.2"})
	p.free(Who{Address: "2001:db8::7"}) // another address of the same host
	take("", Who{Address: "2001:db8::8"})
	for range 5 {
		p.free(one)
	}
	p.free(bench)
	p.free(bench)
	if p.by[holder(one)] != 0 || p.signedIn != 0 || p.public != 9 {
		t.Errorf("after leaving: %+v", p)
	}
}

// TestListenersOnlyListen: who sends data is cut off, and nothing of it is
// inflated; who pings without end too.
func TestListenersOnlyListen(t *testing.T) {
	v := newVenue(t, 0)
	d := *websocket.DefaultDialer
	d.EnableCompression = true
	dial := func() *websocket.Conn {
		conn, res, err := d.Dial(v.url+"/spring?topics=board", nil)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		t.Cleanup(func() { _ = conn.Close() })
		if err := conn.SetReadDeadline(time.Now().Add(20 * time.Second)); err != nil {
			t.Fatal(err)
		}
		v.read(conn)
		return conn
	}
	talks := dial()
	if err := talks.WriteMessage(websocket.TextMessage, make([]byte, 400<<10)); err != nil { // some 400 bytes on the wire
		t.Fatal(err)
	}
	if err := ends(talks); !websocket.IsCloseError(err, websocket.ClosePolicyViolation) {
		t.Errorf("who talks is told %v", err)
	}
	pings := dial()
	for range 10 * pingsInARow {
		if pings.WriteControl(websocket.PingMessage, nil, time.Now().Add(time.Second)) != nil {
			break
		}
	}
	for {
		if _, _, err := pings.ReadMessage(); err != nil {
			if strings.Contains(err.Error(), "timeout") {
				t.Errorf("who pings without end stays: %v", err)
			}
			break
		}
	}
	v.rooms(0)
}

// TestAQuietMeetIsHeardOf: a page sees no pings, so frames have to tell it that the
// connection lives while nothing happens.
func TestAQuietMeetIsHeardOf(t *testing.T) {
	t.Parallel()
	v := newVenue(t, 0)
	conn := v.dial("/spring?topics=board")
	var last time.Time
	for heard := 0; heard < 2; {
		var f got
		if err := conn.ReadJSON(&f); err != nil {
			t.Fatal(err)
		}
		if f.Topic != "still" {
			continue
		}
		if gap := time.Since(last); heard > 0 && gap > 10*time.Second {
			t.Errorf("a quiet meet is silent for %v", gap)
		}
		last = time.Now()
		heard++
	}
}

// TestMeetPutAway: who listens to a meet that is put away is cut off without another
// word of it, and nobody can listen until it is brought back.
func TestMeetPutAway(t *testing.T) {
	v := newVenue(t, 0)
	conn := v.dial("/spring?topics=meet")
	v.read(conn)
	v.give(meet.PutAway{})
	var f got
	for f.Topic = "still"; f.Topic == "still"; {
		f = got{}
		if err := conn.ReadJSON(&f); err != nil {
			if !websocket.IsCloseError(err, websocket.CloseGoingAway) {
				t.Errorf("a listener of a meet that is put away ends with %v", err)
			}
			break
		}
	}
	if f.Topic != "" {
		t.Errorf("a listener of a meet that is put away gets %+v", f)
	}
	v.rooms(0)
	if _, res, err := websocket.DefaultDialer.Dial(v.url+"/spring?topics=meet", nil); err == nil || res.StatusCode != refused {
		t.Errorf("one can listen to a meet that is put away: %v", err)
	} else {
		res.Body.Close()
	}
	v.give(meet.BringBack{})
	if f := v.read(v.dial("/spring?topics=meet")); f.Topic != "meet" {
		t.Errorf("after it was brought back the first frame is %+v", f)
	}
}
