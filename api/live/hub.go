package live

import (
	"context"
	"log/slog"
	"net/http"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"

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

	couriers []*courier
	comes    atomic.Uint64 // listeners so far, for their couriers in turn

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
	// Sources finds what is shown of a stream; nil is what the ledgers have.
	Sources func(store.Stream) Source
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
		if bench, is := strings.CutPrefix(topic, "bench/"); !is || w.MayOrder == nil || !w.MayOrder(bench) {
			topics[i] = Public(topic)
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
	h := &Hub{
		Options: o, ctx: ctx, stop: stop, rooms: map[store.Stream]*room{},
		places:   newPlaces(o.Most, o.MostEach),
		upgrader: websocket.Upgrader{ReadBufferSize: 512, WriteBufferSize: 512, WriteBufferPool: &sync.Pool{}, EnableCompression: true},
	}
	if h.Sources == nil {
		h.Sources = h.Source
	}
	for range runtime.GOMAXPROCS(0) {
		c := newCourier()
		h.couriers = append(h.couriers, c)
		go c.run(ctx)
	}
	return h
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
	h.each(func(l *listener) { l.sayGoodbye(websocket.CloseGoingAway, serverStops) })
	select {
	case <-gone:
		return
	case <-time.After(goodbyeWithin):
	}
	h.each(func(l *listener) { _ = l.socket.below.Close() }) // they had their time
	select {
	case <-gone:
	case <-time.After(closeWithin - goodbyeWithin): // their connections end with the process
	}
}

const serverStops = "the server stops; connect again"

// each calls do for all listeners.
func (h *Hub) each(do func(*listener)) {
	for _, c := range h.couriers {
		for _, l := range c.all() {
			do(l)
		}
	}
}

// ServeMeet lets a request listen to a meet, as Serve does.
func (h *Hub) ServeMeet(w http.ResponseWriter, r *http.Request, who Who, clubID, meetID string) error {
	s, there, err := h.Meet(r.Context(), clubID, meetID)
	if err != nil {
		return err
	}
	return h.Serve(w, r, who, s, there)
}

// Meet is the stream of a meet, and what can be asked for of it now. A meet that is not
// there, or is put away, is refused.
func (h *Hub) Meet(ctx context.Context, clubID, meetID string) (store.Stream, Topics, error) {
	s := store.MeetStream(clubID, meetID)
	snapshot, err := h.Meets.At(ctx, s, 0)
	if err != nil {
		return s, Topics{}, err
	}
	if !snapshot.State.Planned || snapshot.State.Away.Meet {
		return s, Topics{}, refusal.New("no-meet", "meet", meetID)
	}
	return s, meetTopics(snapshot.State), nil
}

// ServePractice lets a request listen to the practice of a club, as Serve does.
func (h *Hub) ServePractice(w http.ResponseWriter, r *http.Request, who Who, clubID string) error {
	s, there, err := h.Practice(r.Context(), clubID)
	if err != nil {
		return err
	}
	return h.Serve(w, r, who, s, there)
}

// Practice is the stream of a club's practice, and what can be asked for of it now.
func (h *Hub) Practice(ctx context.Context, clubID string) (store.Stream, Topics, error) {
	s := store.ClubStream(clubID)
	snapshot, err := h.Clubs.At(ctx, s, 0)
	if err != nil {
		return s, Topics{}, err
	}
	return s, practiceTopics(snapshot.State), nil
}

// Serve lets a request listen to a stream. Before the upgrade it returns a refusal for
// a request that does not fit; after it the connection is the hub's, and what stands
// behind the request is free to go.
func (h *Hub) Serve(w http.ResponseWriter, r *http.Request, who Who, s store.Stream, there Topics) error {
	topics, err := there.asked(r.URL.RawQuery, who)
	if err != nil {
		return err
	}
	if no := h.enter(who); no != nil {
		return no
	}
	stays := false
	defer func() {
		if !stays {
			h.exit(who)
		}
	}()
	w, taken := overtake(w)
	conn, err := h.upgrader.Upgrade(w, r, nil)
	if err != nil {
		return nil // the upgrader has answered
	}
	l, c := newListener(taken.socket, conn), h.couriers[h.comes.Add(1)%uint64(len(h.couriers))]
	in, err := h.join(r.Context(), s, l, c, who.mayHear(topics))
	if err != nil {
		h.Log.Warn("a listener could not be served", "stream", s.String(), "error", err)
		return conn.Close()
	}
	l.flush()
	stays = true
	go func() {
		defer h.exit(who)
		defer h.leave(s, in, l)
		l.read()
	}()
	if h.ctx.Err() != nil { // Close may have looked before it was there
		l.end(serverStops)
	}
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

func (h *Hub) join(ctx context.Context, s store.Stream, l *listener, c *courier, topics []string) (*room, error) {
	h.mu.Lock()
	in, there := h.rooms[s]
	if !there {
		every := LookEvery
		if h.Alone {
			every = 0
		}
		in = newRoom(h.Sources(s), h.Log, every)
		h.rooms[s] = in
	}
	in.enter(l, c, topics) // before another listener's leaving can end the room
	h.mu.Unlock()
	c.add(l)
	if err := in.admit(ctx, l); err != nil {
		h.leave(s, in, l)
		return nil, err
	}
	return in, nil
}

func (h *Hub) leave(s store.Stream, in *room, l *listener) {
	l.group.courier.remove(l)
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
