package relay

import (
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"benchmeet/api/live"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// NodeOptions are what a node needs.
type NodeOptions struct {
	Broker Broker
	// Most and MostEach bound the connections as those of a hub.
	Most, MostEach int
	Log            *slog.Logger
}

// Node serves the live feed to everybody from what givers put on a broker.
type Node struct {
	NodeOptions
	hub *live.Hub

	mu     sync.Mutex
	places map[Place]*taken
	taken  map[store.Stream]*taken
}

// NewNode makes one. Close ends it.
func NewNode(o NodeOptions) *Node {
	n := &Node{NodeOptions: o, places: map[Place]*taken{}, taken: map[store.Stream]*taken{}}
	n.hub = live.New(live.Options{Log: o.Log, Most: o.Most, MostEach: o.MostEach, Sources: n.source})
	return n
}

// Close tells all listeners to connect again and gives them a moment to go.
func (n *Node) Close() { n.hub.Close() }

// Listeners is how many there are.
func (n *Node) Listeners() int { return n.hub.Listeners() }

// Ready says whether a giver answers: an error where none does.
func (n *Node) Ready(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, askWithin)
	defer cancel()
	text, err := n.Broker.Ask(ctx, anyGiver, encode(question{}))
	if err == nil && text == nil {
		return refusal.New("feed-away")
	}
	return err
}

// Serve lets a request listen. Before the upgrade it returns a refusal for a request that
// does not fit; after it the connection is the node's.
func (n *Node) Serve(w http.ResponseWriter, r *http.Request, address string, p Place) error {
	topics, err := live.ReadTopics(r.URL.RawQuery, p.Meet == "")
	if err != nil {
		return err
	}
	t, err := n.find(r.Context(), p, topics)
	if err != nil {
		return err
	}
	return n.hub.Serve(w, r, live.Who{Address: address}, t.stream, live.Topics{Practice: p.Meet == "", Has: t.has})
}

// find has what is shown of a place, with topics that somebody wants.
func (n *Node) find(ctx context.Context, p Place, topics []string) (*taken, error) {
	want := map[string]string{}
	for _, topic := range topics {
		want[live.Public(topic)] = ""
	}
	n.mu.Lock()
	t := n.places[p]
	n.mu.Unlock()
	if t != nil && t.knows(want) {
		return t, nil
	}
	for {
		a, err := n.ask(ctx, "", question{p, want})
		if err != nil {
			return nil, err
		}
		t = n.at(p, store.Stream{Club: a.Club, Name: a.Stream})
		t.take(a, want)
		if !a.More {
			return t, nil
		}
		want = t.sums(want)
	}
}

// at is what is shown of a stream.
func (n *Node) at(p Place, s store.Stream) *taken {
	n.mu.Lock()
	defer n.mu.Unlock()
	t, there := n.taken[s]
	if !there {
		t = newTaken(n, p, s)
		n.taken[s] = t
	}
	n.places[p] = t
	return t
}

// source is what the hub shows of a stream that somebody listens to: find has made it a
// moment ago, and who took longer than that is to connect again.
func (n *Node) source(s store.Stream) live.Source {
	n.mu.Lock()
	defer n.mu.Unlock()
	if t := n.taken[s]; t != nil {
		return t
	}
	return nothing{}
}

// nothing is a stream that nobody may listen to.
type nothing struct{}

func (nothing) Watch() (<-chan struct{}, func()) { return nil, func() {} }

func (nothing) Look(context.Context) (live.Seen, error) { return live.Seen{Gone: true}, nil }

// forget lets go of what nobody listens to any more.
func (n *Node) forget(t *taken) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.taken[t.stream] == t {
		delete(n.taken, t.stream)
	}
	for p, of := range n.places {
		if of == t {
			delete(n.places, p)
		}
	}
}

// ask asks a giver, or any where it is gone. A refusal of the giver's is the error.
func (n *Node) ask(ctx context.Context, name string, q question) (a answer, err error) {
	ctx, cancel := context.WithTimeout(ctx, askWithin)
	defer cancel()
	subject := anyGiver
	if name != "" {
		subject = giver + name
	}
	text, err := n.Broker.Ask(ctx, subject, encode(q))
	if err == nil && text == nil && name != "" {
		text, err = n.Broker.Ask(ctx, anyGiver, encode(q))
	}
	if err == nil && text != nil {
		err = json.Unmarshal(text, &a)
	}
	switch {
	case err != nil, text == nil:
		n.Log.Warn("no server that keeps the day answers", "error", err)
		return a, refusal.New("feed-away")
	case a.Refused != nil:
		var args []any
		for name, value := range a.Refused.Args {
			args = append(args, name, value)
		}
		return a, refusal.New(a.Refused.Code, args...)
	}
	return a, nil
}

// Times of a node.
const (
	askEvery  = 5 * time.Second
	askWithin = 3 * time.Second
	// silentFor is after how long without an answer a node says so: it has its listeners
	// connect again, and lets nobody in. No screen shows a day for live that may have gone on.
	silentFor = 12 * time.Second
	// keptFor is how long what is shown of a stream waits for its first listener.
	keptFor = 10 * time.Second
)
