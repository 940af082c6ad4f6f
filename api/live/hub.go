package live

import (
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/read"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/domain/refusal"
)

// Hub serves the live feed.
type Hub struct {
	Options
	upgrader websocket.Upgrader
	ctx      context.Context
	stop     context.CancelFunc
	done     sync.WaitGroup

	mu     sync.Mutex
	rooms  map[store.Stream]*room
	places places
}

// Options are what a hub needs.
type Options struct {
	Meets *ledger.OfMeets
	Clubs *ledger.OfClubs
	Names *view.Directory
	// Read is what is shown of meets, shared with whoever else shows it; nil makes one.
	Read *read.Model
	Log  *slog.Logger
	// Most bounds the connections; 0 is 6000. An eighth of them is kept for those
	// who are signed in.
	Most int
	// MostEach bounds the connections of one address, and of one who is signed in;
	// 0 is 600, so that the phones of a hall behind one address all get in.
	MostEach int
	// Alone says that no other process can write to the store: what this one is
	// not told of did not happen, and no room looks by itself.
	Alone bool
}

// Who is somebody who wants to listen.
type Who struct {
	Address string // of the network, as far as it is known
	Caller  string // empty for the public
	// MayOrder says whether what a bench has to do may be read whole; nil for nobody.
	MayOrder func(bench string) bool
}

// mayHear are the topics as somebody may hear them: those of benches as everybody may
// see them, but for who may read the bench's order.
func (w Who) mayHear(topics []string) []string {
	for i, topic := range topics {
		if bench, is := strings.CutPrefix(topic, "bench/"); is && (w.MayOrder == nil || !w.MayOrder(bench)) {
			topics[i] += read.ForAll
		}
	}
	return topics
}

// New makes a hub. Close ends it.
func New(o Options) *Hub {
	if o.Most == 0 {
		o.Most = 6000
	}
	if o.MostEach == 0 {
		o.MostEach = 600
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	if o.Read == nil {
		o.Read = read.New(nil)
	}
	ctx, stop := context.WithCancel(context.Background())
	return &Hub{
		Options: o, ctx: ctx, stop: stop, rooms: map[store.Stream]*room{},
		places:   newPlaces(o.Most, o.MostEach),
		upgrader: websocket.Upgrader{ReadBufferSize: 512, WriteBufferSize: 4096, WriteBufferPool: &sync.Pool{}, EnableCompression: true},
	}
}

// Close tells all listeners to connect again and gives them a moment to go.
func (h *Hub) Close() {
	h.mu.Lock() // so that nobody enters any more
	h.stop()
	h.mu.Unlock()
	gone := make(chan struct{})
	go func() {
		h.done.Wait()
		close(gone)
	}()
	select {
	case <-gone:
	case <-time.After(closeWithin): // their connections end with the process
	}
}

// ServeMeet lets a request listen to a meet until its connection ends. Before
// the upgrade it returns a refusal for a request that does not fit.
func (h *Hub) ServeMeet(w http.ResponseWriter, r *http.Request, who Who, clubID, meetID string) error {
	s := store.MeetStream(clubID, meetID)
	snapshot, err := h.Meets.At(r.Context(), s, 0)
	if err != nil {
		return err
	}
	if !snapshot.State.Planned || snapshot.State.Away.Meet {
		return refusal.New("no-meet", "meet", meetID)
	}
	return h.serve(w, r, who, s, meetTopics(snapshot.State))
}

// ServePractice lets a request listen to the practice of a club.
func (h *Hub) ServePractice(w http.ResponseWriter, r *http.Request, who Who, clubID string) error {
	s := store.ClubStream(clubID)
	snapshot, err := h.Clubs.At(r.Context(), s, 0)
	if err != nil {
		return err
	}
	return h.serve(w, r, who, s, practiceTopics(snapshot.State))
}

func (h *Hub) serve(w http.ResponseWriter, r *http.Request, who Who, s store.Stream, there topicSet) error {
	topics, err := there.asked(r.URL.RawQuery, who)
	if err != nil {
		return err
	}
	if no := h.enter(who); no != nil {
		return no
	}
	defer h.exit(who)
	conn, err := h.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return nil // the upgrader has answered
	}
	l := newListener(who.mayHear(topics))
	in, err := h.join(r.Context(), s, l)
	if err != nil {
		h.Log.Warn("a listener could not be served", "stream", s.String(), "error", err)
		return conn.Close()
	}
	defer h.leave(s, in, l)
	l.serve(h.ctx, conn)
	return nil
}

// enter gives a connection its place, unless there is none or the hub closes.
func (h *Hub) enter(who Who) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.ctx.Err() != nil {
		return refusal.New("feed-full")
	}
	if no := h.places.take(who); no != nil {
		return no
	}
	h.done.Add(1)
	return nil
}

// Listeners is how many there are.
func (h *Hub) Listeners() int {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.places.public + h.places.signedIn
}

func (h *Hub) exit(who Who) {
	h.mu.Lock()
	h.places.free(who)
	h.mu.Unlock()
	h.done.Done()
}

func (h *Hub) join(ctx context.Context, s store.Stream, l *listener) (*room, error) {
	h.mu.Lock()
	in, there := h.rooms[s]
	if !there {
		every := lookEvery
		if h.Alone {
			every = 0
		}
		in = newRoom(h.source(s), h.Log, every)
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

// NamesChanged has the club's screens show the people as they are now, soon; it
// waits for none of them.
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
		in.namesChanged()
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
	speed, err := json.Marshal(gen.LiveSpeed{
		Bench: string(sp.Bench), BenchNumber: number(sp.Number), Run: string(sp.Run), Rpm: sp.RPM, SpeedMps: sp.SpeedMPS,
		DistanceM: sp.DistanceM, Laps: sp.Laps, ElapsedS: sp.ElapsedS,
	})
	if err != nil {
		return // not a number: nothing to show
	}
	if frame, err := encodeFrame(topic, nil, func(to []byte) []byte { return append(to, speed...) }); err == nil {
		in.telemetry("speed", topic, frame)
	}
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

func (m meetSource) look(ctx context.Context) (seen, error) {
	snapshot, err := m.hub.Meets.At(ctx, m.stream, 0)
	if err != nil {
		return seen{}, err
	}
	if snapshot.State.Away.Meet {
		return seen{gone: true}, nil
	}
	names, err := m.hub.Names.Names(ctx, m.stream.Club)
	if err != nil {
		return seen{}, err
	}
	v := view.MeetView{ID: m.id, State: snapshot.State, Head: snapshot.Head, Names: names}
	return seen{shows: meetTopics(snapshot.State).shows, data: func(topic string) (content, bool) {
		shown, there := m.hub.Read.Show(m.stream, v, topic)
		if !there {
			return content{}, false
		}
		return content{shown.Text(), shown.Head.Seq, shown.Put}, true
	}}, nil
}

type clubSource struct {
	hub    *Hub
	stream store.Stream
}

func (c clubSource) watch() (<-chan struct{}, func()) { return c.hub.Clubs.Watch(c.stream) }

func (c clubSource) look(ctx context.Context) (seen, error) {
	snapshot, err := c.hub.Clubs.At(ctx, c.stream, 0)
	if err != nil {
		return seen{}, err
	}
	return seen{shows: practiceTopics(snapshot.State).shows, data: func(topic string) (content, bool) {
		return practiceTopic(snapshot.State, topic)
	}}, nil
}

// number leaves out the number of a bench that is not known.
func number(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}
