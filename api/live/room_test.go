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
)

// made makes a frame of live speed.
func made(t testing.TB, topic, text string) *frame {
	t.Helper()
	f, err := newFrame(topic, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// counting is a listener without a connection, in the care of a courier that rests.
func counting() *listener { return newListener(&socket{}, nil) }

// enters lets such a listener into a room.
func enters(r *room, topics ...string) *listener {
	l := counting()
	r.enter(l, resting, topics)
	return l
}

var resting = newCourier()

// TestNewestAlone: each topic holds its newest frame alone, and topics leave in the
// order in which their frames were made.
func TestNewestAlone(t *testing.T) {
	for _, test := range []struct {
		name string
		puts []string
		want []string
	}{
		{"nothing", nil, nil},
		{"one", []string{"board"}, []string{"board 1"}},
		{"the newest wins", []string{"board", "board", "board"}, []string{"board 3"}},
		{"the oldest leaves first", []string{"meet", "board", "bench/b1"}, []string{"meet 1", "board 2", "bench/b1 3"}},
		{"also after others", []string{"board", "meet", "board"}, []string{"meet 2", "board 3"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := newToldRoom(t, newTold())
			l := enters(r, "bench/b1", "board", "meet")
			for n, topic := range test.puts {
				f := made(t, topic, "x")
				f.number = int64(n + 1)
				r.topics[topic].newest.Store(f)
				r.published.Store(f.number)
			}
			var got []string
			due, upTo := l.group.due(0, nil)
			for _, f := range due {
				got = append(got, fmt.Sprint(f.topic, " ", f.number))
			}
			if diff := cmp.Diff(test.want, got); diff != "" || upTo != int64(len(test.puts)) {
				t.Errorf("up to %d, (-want +got)\n%s", upTo, diff)
			}
		})
	}
}

// TestNothingIsPassedOver: a frame that is being handed out while a courier looks comes
// with the next look, in which nothing of it is missing.
func TestNothingIsPassedOver(t *testing.T) {
	r := newToldRoom(t, newTold())
	l := enters(r, "board", "meet")
	put := func(topic string, number int64) {
		f := made(t, topic, "x")
		f.number = number
		r.topics[topic].newest.Store(f)
	}
	put("meet", 1)
	r.published.Store(1)
	put("meet", 3) // of a look that is not over: its other frame is yet to come
	due, upTo := l.group.due(0, nil)
	if len(due) != 0 || upTo != 1 {
		t.Fatalf("%d frames up to %d", len(due), upTo)
	}
	put("board", 2)
	r.published.Store(3)
	if due, upTo = l.group.due(upTo, nil); len(due) != 2 || due[0].topic != "board" || due[1].topic != "meet" || upTo != 3 {
		t.Errorf("%d frames up to %d", len(due), upTo)
	}
}

// TestTelemetryWaitsApart: it stands not among the topics of the log, and neither has
// the courier look for the other.
func TestTelemetryWaitsApart(t *testing.T) {
	s := newTold()
	s.data["board"] = 1
	r := newToldRoom(t, s)
	c := newCourier()
	l := counting()
	r.enter(l, c, []string{"board", "speed"})
	if err := r.admit(t.Context(), l); err != nil {
		t.Fatal(err)
	}
	came(l)
	c.takeDue()
	r.telemetry("speed", made(t, "speed/b1", "1"))
	if due := c.takeDue(); len(due) != 0 || !c.isLoud() || len(came(l)) != 0 {
		t.Errorf("live speed stands among the topics of the log")
	}
	l.group.isLoud, c.loud = false, nil
	s.data["board"] = 2
	r.refresh(t.Context())
	if due := c.takeDue(); len(due) != 1 || c.isLoud() {
		t.Error("a topic of the log did not rouse the courier, or as live speed")
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
	show    func(topic string) (Content, bool) // instead of data
	shows   []string                           // the topics of show
	changes chan struct{}
	watched int
}

func newTold() *told {
	return &told{data: map[string]any{}, encoded: map[string]int{}, changes: make(chan struct{}, 1)}
}

func (s *told) Watch() (<-chan struct{}, func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.watched++
	return s.changes, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.watched--
	}
}

func (s *told) Look(context.Context) (Seen, error) {
	s.mu.Lock()
	s.seq++
	seq := s.seq
	topics := append(slices.Sorted(maps.Keys(s.data)), append(s.shows, "seq")...)
	s.mu.Unlock()
	if s.slow != nil {
		s.slow(seq)
	}
	return Seen{Shows: func(topic string) bool { return slices.Contains(topics, topic) }, Data: func(topic string) (Content, bool) {
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
		return Content{text, seq, func(to []byte) []byte { return append(to, text...) }}, there
	}}, s.err
}

func newToldRoom(t *testing.T, s *told) *room {
	r := newRoom(s, slog.New(slog.DiscardHandler), 0)
	t.Cleanup(r.stop)
	return r
}

// came are the topics of the log that wait, in order, and takes them.
func came(l *listener) []string {
	if !l.welcome {
		return nil
	}
	due, upTo := l.group.due(l.seen, nil)
	l.seen = upTo
	var topics []string
	for _, f := range due {
		topics = append(topics, f.topic)
	}
	return topics
}

// hears is the live speed that waits.
func hears(l *listener) (topics []string) {
	loud, upTo := l.group.loud(l.told, nil)
	l.told = upTo
	for _, f := range loud {
		topics = append(topics, f.topic)
	}
	return topics
}

// TestRoom: who joins gets all its topics, a change goes to those who listen to
// it, equal data is not sent again, and what nobody listens to is not encoded.
func TestRoom(t *testing.T) {
	s := newTold()
	s.data["board"], s.data["standings/junior"] = 1, 1
	r := newToldRoom(t, s)
	ctx := t.Context()
	hall, phone := enters(r, "board"), enters(r, "board", "bench/b1")
	check := func(what string, l *listener, want ...string) {
		t.Helper()
		if diff := cmp.Diff(want, came(l)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s", what, diff)
		}
	}
	for _, l := range []*listener{hall, phone} {
		if err := r.admit(ctx, l); err != nil {
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
	l := enters(r, "board")
	if err := r.admit(t.Context(), l); err != nil {
		t.Fatal(err)
	}
	s.err = errors.New("the database is away")
	if err := r.admit(t.Context(), l); !errors.Is(err, s.err) {
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
	l := enters(r, "standings/junior", "board")
	if err := r.admit(t.Context(), l); err != nil {
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
		l := enters(r, "board", fmt.Sprintf("standings/n%d", i))
		all = append(all, l)
		if err := r.admit(t.Context(), l); err != nil {
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
	if len(r.groups)+len(r.topics) != 0 {
		t.Errorf("an empty room keeps %d groups and %d topics", len(r.groups), len(r.topics))
	}
}

// TestNamesThatChange: who changes a name waits for no screen, those who listen get
// the new one, and nobody who comes meanwhile is welcomed with the old one.
func TestNamesThatChange(t *testing.T) {
	s := newTold()
	s.data["board"] = "old name"
	r := newToldRoom(t, s)
	first := enters(r, "board")
	if err := r.admit(t.Context(), first); err != nil {
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

	next := enters(r, "board")
	if err := r.admit(t.Context(), next); err != nil {
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
		case <-time.After(time.Millisecond):
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
	enters(r, "seq")
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
	l := enters(r, "board", "speed")
	done := make(chan struct{})
	go func() {
		r.refresh(t.Context())
		close(done)
	}()
	<-looking
	r.telemetry("speed", made(t, "speed/b1", "1"))
	if len(hears(l)) != 1 {
		t.Error("the speed did not arrive")
	}
	close(goOn)
	<-done
}

// TestTelemetryGoesToItsListeners: to those of the bench and of all benches.
func TestTelemetryGoesToItsListeners(t *testing.T) {
	r := newToldRoom(t, newTold())
	for topics, want := range map[string]bool{"speed": true, "speed/b1": true, "speed/b2": false, "board": false} {
		l := enters(r, topics)
		r.telemetry("speed", made(t, "speed/b1", "1"))
		if there := len(hears(l)) == 1; there != want {
			t.Errorf("a listener to %s got the speed: %v", topics, there)
		}
	}
}
