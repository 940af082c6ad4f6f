package live

import (
	"context"
	"log/slog"
	"net/http"
	"strings"
	"sync"

	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/journal"
)

// Hub serves the live feed.
type Hub struct {
	Options
	upgrader websocket.Upgrader
	ctx      context.Context
	stop     context.CancelFunc
	done     sync.WaitGroup

	mu        sync.Mutex
	rooms     map[store.Stream]*room
	listening int
}

// Options are what a hub needs.
type Options struct {
	Meets *intake.Meets
	Clubs *intake.Clubs
	Names *view.Directory
	Log   *slog.Logger
	// Most bounds the connections; 0 is 4096.
	Most int
}

// New makes a hub. Close ends it.
func New(o Options) *Hub {
	if o.Most == 0 {
		o.Most = 4096
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	ctx, stop := context.WithCancel(context.Background())
	return &Hub{
		Options: o, ctx: ctx, stop: stop, rooms: map[store.Stream]*room{},
		upgrader: websocket.Upgrader{ReadBufferSize: 512, WriteBufferSize: 4096, EnableCompression: true},
	}
}

// Close tells all listeners to connect again and waits for them to go.
func (h *Hub) Close() {
	h.mu.Lock() // so that nobody enters any more
	h.stop()
	h.mu.Unlock()
	h.done.Wait()
}

// Refusal says why a listener was not let in.
type Refusal struct {
	Status int
	Code   string
	Topic  string
}

// Error is for the server's log; what the caller reads is made from Code.
func (r *Refusal) Error() string { return "live feed: " + r.Code + " " + r.Topic }

// ServeMeet lets a request listen to a meet until its connection ends. Before
// the upgrade it returns a *Refusal for a request that does not fit.
func (h *Hub) ServeMeet(w http.ResponseWriter, r *http.Request, clubID, meetID string) error {
	s := store.MeetStream(clubID, meetID)
	snapshot, err := h.Meets.At(r.Context(), s, 0)
	if err != nil {
		return err
	}
	if !snapshot.State.Planned {
		return &Refusal{http.StatusNotFound, "no-meet", meetID}
	}
	return h.serve(w, r, s, false)
}

// ServePractice lets a request listen to the practice of a club.
func (h *Hub) ServePractice(w http.ResponseWriter, r *http.Request, clubID string) error {
	return h.serve(w, r, store.ClubStream(clubID), true)
}

func (h *Hub) serve(w http.ResponseWriter, r *http.Request, s store.Stream, practice bool) error {
	var topics []string
	for _, t := range strings.Split(r.URL.Query().Get("topics"), ",") {
		if !knownTopic(t, practice) || len(topics) == mostTopics {
			return &Refusal{http.StatusBadRequest, "bad-topic", t}
		}
		topics = append(topics, t)
	}
	if !h.enter() {
		return &Refusal{http.StatusServiceUnavailable, "feed-full", ""}
	}
	defer h.exit()
	conn, err := h.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return nil // the upgrader has answered
	}
	l := newListener(topics)
	in, err := h.join(r.Context(), s, l)
	if err != nil {
		h.Log.Warn("a listener could not be served", "stream", s.String(), "error", err)
		return conn.Close()
	}
	defer h.leave(s, in, l)
	l.serve(h.ctx, conn)
	return nil
}

// enter counts a connection in, unless there are too many or the hub closes.
func (h *Hub) enter() bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.listening >= h.Most || h.ctx.Err() != nil {
		return false
	}
	h.listening++
	h.done.Add(1)
	return true
}

func (h *Hub) exit() {
	h.mu.Lock()
	h.listening--
	h.mu.Unlock()
	h.done.Done()
}

func (h *Hub) join(ctx context.Context, s store.Stream, l *listener) (*room, error) {
	h.mu.Lock()
	in, there := h.rooms[s]
	if !there {
		in = newRoom(h.source(s), h.Log)
		h.rooms[s] = in
	}
	in.enter(l) // before another listener's leaving can end the room
	h.mu.Unlock()
	if err := in.welcome(ctx, l); err != nil {
		h.leave(s, in, l)
		return nil, err
	}
	return in, nil
}

func (h *Hub) leave(s store.Stream, in *room, l *listener) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if in.leave(l) && h.rooms[s] == in {
		in.stop()
		delete(h.rooms, s)
	}
}

// NamesChanged shows the club's screens the people as they are now.
func (h *Hub) NamesChanged(clubID string) {
	h.mu.Lock()
	var due []*room
	for s, in := range h.rooms {
		if s.Club == clubID {
			due = append(due, in)
		}
	}
	h.mu.Unlock()
	for _, in := range due {
		in.refresh(h.ctx)
	}
}

// Speed hands telemetry to those who listen. It never blocks for long: slots
// take only the newest.
func (h *Hub) Speed(sp intake.Speed) {
	s := store.ClubStream(sp.Club)
	if sp.Meet != "" {
		s = store.MeetStream(sp.Club, sp.Meet)
	}
	h.mu.Lock()
	in := h.rooms[s]
	h.mu.Unlock()
	if in == nil {
		return
	}
	topic := "speed/" + string(sp.Bench)
	frame, err := encodeFrame(topic, nil, gen.LiveSpeed{
		Bench: string(sp.Bench), BenchNumber: number(sp.Number), Run: string(sp.Run), Rpm: sp.RPM, SpeedMps: sp.SpeedMPS,
		DistanceM: sp.DistanceM, Laps: sp.Laps, ElapsedS: sp.ElapsedS,
	})
	if err != nil {
		return // not a number: nothing to show
	}
	in.telemetry("speed", topic, frame)
}

func (h *Hub) source(s store.Stream) source {
	if id, isMeet := s.Meet(); isMeet {
		return meetSource{h, s, id}
	}
	return clubSource{h, s}
}

type meetSource struct {
	hub    *Hub
	stream store.Stream
	id     string
}

func (m meetSource) watch() (<-chan struct{}, func()) { return m.hub.Meets.Watch(m.stream) }

func (m meetSource) look(ctx context.Context) (journal.Head, func(string) (any, bool), error) {
	snapshot, err := m.hub.Meets.At(ctx, m.stream, 0)
	if err != nil {
		return journal.Head{}, nil, err
	}
	names, err := m.hub.Names.Names(ctx, m.stream.Club)
	if err != nil {
		return journal.Head{}, nil, err
	}
	v := view.MeetView{ID: m.id, State: snapshot.State, Names: names} // without a position
	return snapshot.Head, func(topic string) (any, bool) { return meetTopic(v, topic) }, nil
}

type clubSource struct {
	hub    *Hub
	stream store.Stream
}

func (c clubSource) watch() (<-chan struct{}, func()) { return c.hub.Clubs.Watch(c.stream) }

func (c clubSource) look(ctx context.Context) (journal.Head, func(string) (any, bool), error) {
	snapshot, err := c.hub.Clubs.At(ctx, c.stream, 0)
	if err != nil {
		return journal.Head{}, nil, err
	}
	s := *snapshot.State // a shallow copy, to blank the position
	s.Seq = 0
	return snapshot.Head, func(topic string) (any, bool) { return practiceTopic(&s, topic) }, nil
}

// number leaves out the number of a bench that is not known.
func number(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}
