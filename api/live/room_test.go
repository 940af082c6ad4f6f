package live

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/gorilla/websocket"
)

// prepared makes a frame to compare by identity.
func prepared(t testing.TB, text string) *websocket.PreparedMessage {
	t.Helper()
	frame, err := websocket.NewPreparedMessage(websocket.TextMessage, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return frame
}

// TestSlots: each topic holds its newest frame alone, and topics leave in the
// order in which they began to wait.
func TestSlots(t *testing.T) {
	type put struct{ topic, text string }
	tests := []struct {
		name string
		puts []put
		want []string
	}{
		{"nothing", nil, nil},
		{"one", []put{{"board", "1"}}, []string{"1"}},
		{"the newest wins", []put{{"board", "1"}, {"board", "2"}, {"board", "3"}}, []string{"3"}},
		{"in the order of waiting", []put{{"board", "1"}, {"meet", "2"}, {"bench/b1", "3"}}, []string{"1", "2", "3"}},
		{"a newer frame keeps its topic's place", []put{{"board", "1"}, {"meet", "2"}, {"board", "3"}}, []string{"3", "2"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := newSlots()
			texts := map[*websocket.PreparedMessage]string{}
			for _, p := range test.puts {
				frame := prepared(t, p.text)
				texts[frame] = p.text
				s.put(p.topic, frame)
			}
			var got []string
			for frame, there := s.take(); there; frame, there = s.take() {
				got = append(got, texts[frame])
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// TestTelemetryWaitsApart: it wakes nobody and takes no place of the log's topics.
func TestTelemetryWaitsApart(t *testing.T) {
	l := newListener([]string{"board", "speed"})
	l.putTelemetry("speed/b1", prepared(t, "speed"))
	select {
	case <-l.wake:
		t.Error("telemetry woke the connection")
	default:
	}
	if _, there := l.take(&l.frames); there {
		t.Error("telemetry stands among the topics of the log")
	}
	l.put("board", prepared(t, "board"))
	select {
	case <-l.wake:
	default:
		t.Error("a topic of the log did not wake the connection")
	}
	for _, from := range []*slots{&l.frames, &l.telemetry} {
		if _, there := l.take(from); !there {
			t.Error("a frame is lost")
		}
	}
}

// told is a source that a test tells what to show.
type told struct {
	mu      sync.Mutex
	seq     int64
	data    map[string]any
	err     error
	encoded map[string]int // how often each topic was asked for
	slow    func(seq int64)
	show    func(topic string) (content, bool) // instead of data
	shows   []string                           // the topics of show
	changes chan struct{}
	watched int
}

func newTold() *told {
	return &told{data: map[string]any{}, encoded: map[string]int{}, changes: make(chan struct{}, 1)}
}

func (s *told) watch() (<-chan struct{}, func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watched++
	return s.changes, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.watched--
	}
}

func (s *told) look(context.Context) (seen, error) {
	s.mu.Lock()
	s.seq++
	seq := s.seq
	topics := append(slices.Sorted(maps.Keys(s.data)), append(s.shows, "seq")...)
	s.mu.Unlock()
	if s.slow != nil {
		s.slow(seq)
	}
	return seen{shows: func(topic string) bool { return slices.Contains(topics, topic) }, data: func(topic string) (content, bool) {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.encoded[topic]++
		if s.show != nil {
			return s.show(topic)
		}
		v, there := s.data[topic]
		switch fault, is := v.(error); {
		case is:
			panic(fault)
		case topic == "seq":
			v, there = seq, true
		}
		text := encode(v)
		return content{text, seq, func(to []byte) []byte { return append(to, text...) }}, there
	}}, s.err
}

func newToldRoom(t *testing.T, s *told) *room {
	r := newRoom(s, slog.New(slog.DiscardHandler), 0)
	t.Cleanup(r.stop)
	return r
}

// came are the topics of the frames that wait, in order.
func came(l *listener) []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	order := l.frames.order
	l.frames = newSlots()
	return order
}

// TestRoom: who joins gets all its topics, a change goes to those who listen to
// it, equal data is not sent again, and what nobody listens to is not encoded.
func TestRoom(t *testing.T) {
	s := newTold()
	s.data["board"], s.data["standings/junior"] = 1, 1
	r := newToldRoom(t, s)
	ctx := t.Context()
	hall, phone := newListener([]string{"board"}), newListener([]string{"board", "bench/b1"})
	check := func(what string, l *listener, want ...string) {
		t.Helper()
		if diff := cmp.Diff(want, came(l)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", what, diff)
		}
	}
	for _, l := range []*listener{hall, phone} {
		r.enter(l)
		if err := r.welcome(ctx, l); err != nil {
			t.Fatal(err)
		}
	}
	check("joined", hall, "board")
	check("joined, the bench is not there yet", phone, "board")
	if n := s.encoded["board"]; n != 1 {
		t.Errorf("the board was encoded %d times for two who joined", n)
	}
	r.refresh(ctx)
	check("nothing changed", hall)
	s.data["board"] = 2
	r.refresh(ctx)
	check("the board changed", hall, "board")
	check("the board changed", phone, "board")
	s.data["bench/b1"] = 1
	r.refresh(ctx)
	check("the bench came", hall)
	check("the bench came", phone, "bench/b1")
	if n := s.encoded["standings/junior"]; n != 0 {
		t.Errorf("standings that nobody listens to were computed %d times", n)
	}
	if r.leave(phone) {
		t.Error("the room is said to be empty")
	}
	r.refresh(ctx)
	if r.topics["bench/b1"] != nil {
		t.Error("a topic that nobody listens to any more is kept")
	}
	if !r.leave(hall) {
		t.Error("the last one left and nobody noticed")
	}
}

// TestRoomOutlivesFaults: what cannot be encoded or read now is left out, and the
// next look tries again.
func TestRoomOutlivesFaults(t *testing.T) {
	s := newTold()
	s.data["board"] = func() {} // no JSON
	r := newToldRoom(t, s)
	l := newListener([]string{"board"})
	r.enter(l)
	if err := r.welcome(t.Context(), l); err != nil {
		t.Fatal(err)
	}
	s.err = errors.New("the database is away")
	if err := r.welcome(t.Context(), l); !errors.Is(err, s.err) {
		t.Errorf("got %v", err)
	}
	r.refresh(t.Context())
	s.err, s.data["board"] = nil, 1
	r.refresh(t.Context())
	if got := came(l); len(got) != 1 {
		t.Errorf("got %v", got)
	}
}

// TestFaultInATopic: a panic of the program in one topic fails that topic alone,
// also at the next change, and the room goes on.
func TestFaultInATopic(t *testing.T) {
	s := newTold()
	s.data["standings/junior"], s.data["board"] = errors.New("a rule without a case"), 1
	r := newToldRoom(t, s)
	l := newListener([]string{"standings/junior", "board"})
	r.enter(l)
	if err := r.welcome(t.Context(), l); err != nil {
		t.Fatal(err)
	}
	s.data["board"] = 2
	s.changes <- struct{}{} // in the room's own goroutine
	for range 1000 {
		r.updating.Lock()
		newest := string(r.topics["board"].text)
		r.updating.Unlock()
		if newest == "2" {
			if got := came(l); len(got) != 1 || got[0] != "board" {
				t.Errorf("the board's listeners got %v", got)
			}
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Error("the board does not change any more")
}

// TestMadeUpTopicsCostNothing: what is not there is never computed, however many
// ask for it, and leaves nothing behind.
func TestMadeUpTopicsCostNothing(t *testing.T) {
	s := newTold()
	s.data["board"] = 1
	r := newToldRoom(t, s)
	var all []*listener
	for i := range 200 {
		l := newListener([]string{"board", fmt.Sprintf("standings/n%d", i)})
		all = append(all, l)
		r.enter(l)
		if err := r.welcome(t.Context(), l); err != nil {
			t.Fatal(err)
		}
	}
	s.data["board"] = 2
	r.refresh(t.Context())
	if n := len(s.encoded); n != 1 || s.encoded["board"] != 2 {
		t.Errorf("computed: %v", s.encoded)
	}
	for _, l := range all {
		r.leave(l)
	}
	r.refresh(t.Context())
	if len(r.asked)+len(r.topics) != 0 {
		t.Errorf("an empty room keeps %d asked and %d shown topics", len(r.asked), len(r.topics))
	}
}

// TestNamesThatChange: who changes a name waits for no screen, those who listen get
// the new one, and nobody who comes meanwhile is welcomed with the old one.
func TestNamesThatChange(t *testing.T) {
	s := newTold()
	s.data["board"] = "old name"
	r := newToldRoom(t, s)
	first := newListener([]string{"board"})
	r.enter(first)
	if err := r.welcome(t.Context(), first); err != nil {
		t.Fatal(err)
	}
	came(first)

	r.updating.Lock() // a look is under way, and takes its time
	s.mu.Lock()
	s.data["board"] = "new name"
	s.mu.Unlock()
	r.namesChanged() // would wait for ever
	r.namesChanged()
	r.updating.Unlock()

	next := newListener([]string{"board"})
	r.enter(next)
	if err := r.welcome(t.Context(), next); err != nil {
		t.Fatal(err)
	}
	r.updating.Lock()
	shown := string(r.topics["board"].text)
	r.updating.Unlock()
	if shown != `"new name"` || !slices.Equal(came(next), []string{"board"}) {
		t.Errorf("it is welcomed with %q", shown)
	}
	for {
		if slices.Equal(came(first), []string{"board"}) {
			return
		}
		select {
		case <-first.wake:
		case <-t.Context().Done():
			t.Fatal("who listened never gets the new name")
		}
	}
}

// TestOlderLookNeverOvertakes: looks that take different times end on the newest.
func TestOlderLookNeverOvertakes(t *testing.T) {
	s := newTold()
	s.slow = func(seq int64) { time.Sleep(time.Duration(seq%3) * time.Millisecond) }
	r := newToldRoom(t, s)
	l := newListener([]string{"seq"})
	r.enter(l)
	var all sync.WaitGroup
	const looks = 40
	for range looks {
		all.Go(func() { r.refresh(t.Context()) })
	}
	all.Wait()
	if got := string(r.topics["seq"].text); got != fmt.Sprint(looks) {
		t.Errorf("screens end at position %s of %d", got, looks)
	}
}

// TestTelemetryPassesALook: live speed does not wait for standings that are being
// computed.
func TestTelemetryPassesALook(t *testing.T) {
	s := newTold()
	looking, goOn := make(chan struct{}), make(chan struct{})
	s.slow = func(int64) { close(looking); <-goOn }
	r := newToldRoom(t, s)
	l := newListener([]string{"board", "speed"})
	r.enter(l)
	done := make(chan struct{})
	go func() {
		r.refresh(t.Context())
		close(done)
	}()
	<-looking
	r.telemetry("speed", "speed/b1", prepared(t, "1"))
	if _, there := l.take(&l.telemetry); !there {
		t.Error("the speed did not arrive")
	}
	close(goOn)
	<-done
}

// TestTelemetryGoesToItsListeners: to those of the bench and of all benches.
func TestTelemetryGoesToItsListeners(t *testing.T) {
	r := newToldRoom(t, newTold())
	for topics, want := range map[string]bool{"speed": true, "speed/b1": true, "speed/b2": false, "board": false} {
		l := newListener([]string{topics})
		r.enter(l)
		r.telemetry("speed", "speed/b1", prepared(t, "1"))
		if _, there := l.take(&l.telemetry); there != want {
			t.Errorf("a listener to %s got the speed: %v", topics, there)
		}
	}
}
