package relay

import (
	"context"
	"encoding/json"
	"fmt"
	"log/slog"
	"maps"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/intake"
	"benchmeet/api/live"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// told is a feed that a test tells what to show: a club with a meet.
type told struct {
	mu       sync.Mutex
	seq      int64
	shows    map[string]string
	away     bool // the meet is put away
	watchers map[chan struct{}]struct{}
	heard    []live.Spoken
}

func newTold() *told {
	return &told{shows: map[string]string{}, watchers: map[chan struct{}]struct{}{}}
}

// show changes what topics show, as one event.
func (f *told) show(shows map[string]string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.seq++
	maps.Copy(f.shows, shows)
	for w := range f.watchers {
		tell(w)
	}
}

func (f *told) Meet(_ context.Context, club, meet string) (store.Stream, live.Topics, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if meet != "spring" || f.away {
		return store.Stream{}, live.Topics{}, refusal.New("no-meet", "meet", meet)
	}
	return store.MeetStream(club, meet), live.Topics{Has: func(kind, of string) bool {
		f.mu.Lock()
		defer f.mu.Unlock()
		_, there := f.shows[strings.TrimSuffix(kind+"/"+of, "/")]
		return there || kind == "speed"
	}}, nil
}

func (f *told) Practice(_ context.Context, club string) (store.Stream, live.Topics, error) {
	return store.ClubStream(club), live.Topics{Practice: true, Has: func(string, string) bool { return false }}, nil
}

func (f *told) Source(store.Stream) live.Source { return f }

func (f *told) Tell(said live.Spoken) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.heard = append(f.heard, said)
}

func (f *told) Watch() (<-chan struct{}, func()) {
	w := make(chan struct{}, 1)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.watchers[w] = struct{}{}
	return w, func() {
		f.mu.Lock()
		defer f.mu.Unlock()
		delete(f.watchers, w)
	}
}

func (f *told) Look(context.Context) (live.Seen, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	shows, seq := maps.Clone(f.shows), f.seq
	there := func(topic string) bool { _, is := shows[topic]; return is }
	return live.Seen{Gone: f.away, Shows: there, Data: func(topic string) (live.Content, bool) {
		text := []byte(shows[topic])
		if shows[topic] == `"fault"` {
			panic("a fault of the program")
		}
		return live.Content{Text: text, Seq: seq, Put: func(to []byte) []byte { return append(to, text...) }}, true
	}}, nil
}

// hall is givers over one told feed, and a node whose listeners are counted by what they got.
type hall struct {
	t      *testing.T
	broker *memory
	feed   *told
	givers []*Giver
	node   *Node
}

func newHall(t *testing.T, givers int) *hall {
	h := &hall{t: t, broker: newMemory(), feed: newTold()}
	for range givers {
		h.give()
	}
	h.node = NewNode(NodeOptions{Broker: h.broker, Log: slog.New(slog.DiscardHandler)})
	return h
}

func (h *hall) give() {
	g, err := NewGiver(GiverOptions{
		Broker: h.broker, Feed: h.feed, Log: slog.New(slog.DiscardHandler),
		ClubAt: func(_ context.Context, p Place) (string, error) {
			if p.Host != "hall" {
				return "", refusal.New("no-club")
			}
			return "home" + p.Path, nil
		},
		Why: func(err error) *refusal.Refusal {
			no, _ := refusal.As(err)
			return no
		},
	})
	if err != nil {
		h.t.Fatal(err)
	}
	h.givers = append(h.givers, g)
}

func (h *hall) close() {
	h.node.Close()
	for _, g := range h.givers {
		_ = g.Close()
	}
}

var spring = Place{Host: "hall", Meet: "spring"}

// shown is what the node has of a topic, as a room of it would look.
func (h *hall) shown(t *taken, topic string) string {
	seen, err := t.Look(h.t.Context())
	switch {
	case err != nil:
		h.t.Fatal(err)
	case seen.Gone:
		return "gone"
	case !seen.Shows(topic):
		return "nothing"
	}
	c, there := seen.Data(topic)
	if !there {
		return "not yet"
	}
	return string(c.Put(nil))
}

// watched finds topics of the meet and follows it as a room does, which looks at each
// change.
func (h *hall) watched(topics ...string) *taken {
	t, err := h.node.find(h.t.Context(), spring, topics)
	if err != nil {
		h.t.Fatal(err)
	}
	changes, stop := t.Watch()
	done := make(chan struct{})
	tick := time.NewTicker(5 * time.Second) // a room looks by itself, too
	go func() {
		defer tick.Stop()
		for {
			select {
			case <-done:
				return
			case <-tick.C:
			case <-changes:
			}
			for _, topic := range topics {
				h.shown(t, live.Public(topic))
			}
		}
	}()
	h.t.Cleanup(func() { close(done); stop() })
	return t
}

// TestANodeShowsWhatItsGiverShows: at once when somebody comes, within a moment when it
// changes, and at the next question what the broker lost.
func TestANodeShowsWhatItsGiverShows(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 1)
		defer h.close()
		h.feed.show(map[string]string{"board": `"one"`, "bench/b1": `"for its phone"`, "bench/b1/all": `"for all"`, "car/e1": `"fault"`})
		at := h.watched("board", "bench/b1", "car/e1")
		see := func(when, topic, want string) {
			t.Helper()
			if got := h.shown(at, topic); got != want {
				t.Errorf("%s the node shows %s of %s, not %s", when, got, topic, want)
			}
		}
		see("at once", "board", `"one"`)
		see("at once", "bench/b1/all", `"for all"`)
		see("at once", "bench/b1", "not yet") // nobody without a key is handed it
		see("at once", "car/e1", "not yet")   // a fault fails its topic alone
		time.Sleep(time.Second)
		h.feed.show(map[string]string{"board": `"two"`})
		time.Sleep(200 * time.Millisecond)
		see("after a change", "board", `"two"`)
		h.broker.mu.Lock()
		h.broker.dropped = func(subject string) bool { return strings.HasPrefix(subject, framesFrom) }
		h.broker.mu.Unlock()
		h.feed.show(map[string]string{"board": `"three"`})
		time.Sleep(askEvery + time.Second)
		see("after the broker lost a frame", "board", `"three"`)
		see("whatever was asked for", "bench/b1", "nothing")
	})
}

// TestAFeedOfALaterVersion: what a later version says beside what this one knows, in
// questions, answers and frames, is passed over.
func TestAFeedOfALaterVersion(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 1)
		defer h.close()
		said := 0
		h.broker.mu.Lock()
		h.broker.changed = func(message []byte) []byte {
			said++
			return append([]byte(`{"hall_lit":{"since":1},"version":9,`), message[1:]...)
		}
		h.broker.mu.Unlock()
		h.feed.show(map[string]string{"board": `"one"`})
		at := h.watched("board")
		if got := h.shown(at, "board"); got != `"one"` {
			t.Errorf("at once the node shows %s", got)
		}
		time.Sleep(time.Second)
		h.feed.show(map[string]string{"board": `"two"`})
		time.Sleep(200 * time.Millisecond)
		if got := h.shown(at, "board"); got != `"two"` {
			t.Errorf("after a change the node shows %s", got)
		}
		h.broker.mu.Lock()
		defer h.broker.mu.Unlock()
		if said < 3 {
			t.Errorf("%d messages were of a later version", said)
		}
	})
}

// TestOlderFramesReplaceNothing, but where three answers in a row say that the log ends
// there: it was restored.
func TestOlderFramesReplaceNothing(t *testing.T) {
	at := newTaken(&Node{}, spring, store.MeetStream("home", "spring"))
	at.want("board")
	see := func(want string) {
		t.Helper()
		if got := string(at.topics["board"].frame.Data); got != want {
			t.Errorf("it shows %s, not %s", got, want)
		}
	}
	f := func(seq int64, text string) frame {
		return frame{Topic: "board", Seq: seq, Sum: sumOf([]byte(text)), Data: json.RawMessage(text)}
	}
	at.put(f(7, "seven"))
	at.put(f(6, "six"))
	see("seven")
	at.put(f(7, "seven, with another name"))
	see("seven, with another name")
	for _, want := range []string{"seven, with another name", "seven, with another name", "six"} {
		at.putAnswer(f(6, "six"))
		see(want)
	}
}

// TestAGiverThatEndsIsFollowed by another one, at the next question.
func TestAGiverThatEndsIsFollowed(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 2)
		defer h.close()
		h.feed.show(map[string]string{"board": `"one"`})
		at := h.watched("board")
		for n := range 3 {
			at.mu.Lock()
			answered := at.giver
			at.mu.Unlock()
			for _, g := range h.givers {
				if g.name == answered {
					_ = g.Close()
				}
			}
			h.give()
			text := fmt.Sprintf(`"after %d"`, n)
			h.feed.show(map[string]string{"board": text})
			time.Sleep(askEvery + time.Second)
			if got := h.shown(at, "board"); got != text {
				t.Fatalf("it shows %s, not %s", got, text)
			}
			time.Sleep(time.Second)
			text = fmt.Sprintf(`"and then %d"`, n)
			h.feed.show(map[string]string{"board": text})
			time.Sleep(200 * time.Millisecond)
			if got := h.shown(at, "board"); got != text {
				t.Fatalf("of the one that follows no change is taken: %s", got)
			}
		}
	})
}

// TestANodeThatHearsNothingSaysSo: its listeners go, and nobody gets in; when the broker is
// back, all is as before.
func TestANodeThatHearsNothingSaysSo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 1)
		defer h.close()
		h.feed.show(map[string]string{"board": `"one"`})
		at := h.watched("board")
		h.broker.mu.Lock()
		h.broker.cut = true
		h.broker.mu.Unlock()
		time.Sleep(2 * time.Second)
		if got := h.shown(at, "board"); got != `"one"` {
			t.Errorf("after two seconds it shows %s", got)
		}
		time.Sleep(silentFor + askEvery + askWithin)
		if got := h.shown(at, "board"); got != "gone" {
			t.Errorf("it goes on showing %s", got)
		}
		_, err := h.node.find(t.Context(), spring, []string{"board"})
		if no, _ := refusal.As(err); no == nil || no.Code != "feed-away" {
			t.Errorf("somebody gets in: %v", err)
		}
		h.broker.mu.Lock()
		h.broker.cut = false
		h.broker.mu.Unlock()
		h.feed.show(map[string]string{"board": `"two"`})
		time.Sleep(200 * time.Millisecond) // the giver looks
		again, err := h.node.find(t.Context(), spring, []string{"board"})
		if err != nil {
			t.Fatal(err)
		}
		if got := h.shown(again, "board"); got != `"two"` {
			t.Errorf("when the broker is back it shows %s", got)
		}
	})
}

// TestAGiverRests when nobody asks any more, and a node lets go of what nobody listens to.
func TestAGiverRests(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 1)
		defer h.close()
		h.feed.show(map[string]string{"board": `"one"`})
		at, err := h.node.find(t.Context(), spring, []string{"board"})
		if err != nil {
			t.Fatal(err)
		}
		_, stop := at.Watch()
		time.Sleep(time.Minute)
		stop()
		time.Sleep(wantedFor + live.LookEvery + 2*keptFor)
		h.givers[0].mu.Lock()
		lines := len(h.givers[0].lines)
		h.givers[0].mu.Unlock()
		h.node.mu.Lock()
		taken, places := len(h.node.taken), len(h.node.places)
		h.node.mu.Unlock()
		h.feed.mu.Lock()
		watchers := len(h.feed.watchers)
		h.feed.mu.Unlock()
		if lines+taken+places+watchers != 0 {
			t.Errorf("%d lines, %d streams under %d places and %d watchers are left", lines, taken, places, watchers)
		}
	})
}

// TestRefusalsReachWhoAsked: a meet that is not there, or is put away; a club that is not.
func TestRefusalsReachWhoAsked(t *testing.T) {
	h := newHall(t, 1)
	defer h.close()
	h.feed.show(map[string]string{"board": `"one"`})
	for _, test := range []struct {
		place Place
		code  refusal.Code
	}{
		{Place{Host: "hall", Meet: "autumn"}, "no-meet"},
		{Place{Host: "street", Meet: "spring"}, "no-club"},
	} {
		_, err := h.node.find(t.Context(), test.place, []string{"board"})
		if no, _ := refusal.As(err); no == nil || no.Code != test.code {
			t.Errorf("%+v: %v", test.place, err)
		}
	}
	at := h.watched("board")
	h.feed.mu.Lock()
	h.feed.away = true
	h.feed.mu.Unlock()
	h.feed.show(nil)
	for began := time.Now(); h.shown(at, "board") != "gone"; time.Sleep(10 * time.Millisecond) {
		if time.Since(began) > 5*time.Second {
			t.Fatal("a meet that was put away goes on")
		}
	}
}

// TestLiveSpeedReachesOtherServers, whichever one a counter box sends to.
func TestLiveSpeedReachesOtherServers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		h := newHall(t, 2)
		defer h.close()
		said, is := live.Speak(intake.Speed{Club: "home", Meet: "spring", Bench: "b1", Number: 1, RPM: 9000})
		if !is {
			t.Fatal("it is not told")
		}
		h.givers[0].Tell(said)
		synctest.Wait()
		h.feed.mu.Lock()
		defer h.feed.mu.Unlock()
		if len(h.feed.heard) == 0 || h.feed.heard[0].Stream != store.MeetStream("home", "spring") ||
			h.feed.heard[0].Topic != "speed/b1" || !strings.Contains(string(h.feed.heard[0].Data), `"rpm":9000`) {
			t.Errorf("others heard %+v", h.feed.heard)
		}
	})
}

// TestScreensOfANode: over WebSocket, as pages listen.
func TestScreensOfANode(t *testing.T) {
	h := newHall(t, 1)
	defer h.close()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := h.node.Serve(w, r, "10.0.0.1", spring); err != nil {
			http.Error(w, err.Error(), http.StatusBadRequest)
		}
	}))
	defer server.Close()
	h.feed.show(map[string]string{"board": `{"n":1}`, "bench/b1": `"secret"`, "bench/b1/all": `"public"`})
	url := "ws" + strings.TrimPrefix(server.URL, "http") + "/?topics="
	listen := func(topics string) *websocket.Conn {
		conn, _, err := websocket.DefaultDialer.Dial(url+topics, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { conn.Close() })
		return conn
	}
	next := func(conn *websocket.Conn) string {
		for {
			if err := conn.SetReadDeadline(time.Now().Add(10 * time.Second)); err != nil {
				t.Fatal(err)
			}
			_, text, err := conn.ReadMessage()
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(string(text), `"still"`) {
				return string(text)
			}
		}
	}
	board, bench, speed := listen("board"), listen("bench/b1"), listen("speed,board")
	if got := next(board); got != `{"topic":"board","seq":1,"data":{"n":1}}` {
		t.Errorf("it begins with %s", got)
	}
	if got := next(bench); got != `{"topic":"bench/b1","seq":1,"data":"public"}` {
		t.Errorf("of a bench it shows %s", got)
	}
	next(speed)
	h.feed.show(map[string]string{"board": `{"n":2}`})
	if got := next(board); got != `{"topic":"board","seq":2,"data":{"n":2}}` {
		t.Errorf("it goes on with %s", got)
	}
	next(speed)
	said := spoken{"home", "meet/spring", "speed/b1", json.RawMessage(`{"rpm":9000}`)}
	if err := h.broker.Publish(speedOf+token(store.MeetStream("home", "spring")), encode(said)); err != nil {
		t.Fatal(err)
	}
	if got := next(speed); got != `{"topic":"speed/b1","data":{"rpm":9000}}` {
		t.Errorf("of live speed it shows %s", got)
	}
	for _, topics := range []string{"", "none", "car/e9", "board/x"} {
		if conn, res, err := websocket.DefaultDialer.Dial(url+topics, nil); err == nil || res == nil || res.StatusCode != http.StatusBadRequest {
			t.Errorf("%q: %v", topics, err)
			if err == nil {
				conn.Close()
			}
		}
	}
}
