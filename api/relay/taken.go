package relay

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"sync"
	"time"

	"benchmeet/api/live"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// taken is a stream as a node was told of it. It asks again and again while anybody
// listens.
type taken struct {
	node   *Node
	place  Place
	stream store.Stream
	// changed tells the hub that something is otherwise; wake, that something new is wanted.
	changed, wake chan struct{}

	mu     sync.Mutex
	topics map[string]*held
	giver  string // who answered last
	heard  time.Time
	gone   bool
	// follows says that the hub looks at it, and watch for which time.
	follows bool
	watch   int
	found   time.Time // by somebody who wants to listen, at last
	ends    []func()  // of the subscriptions
	frames  string    // the subject of the giver's frames, while it is taken
}

// held is a topic that somebody wants.
type held struct {
	there bool
	frame frame
	older int       // answers in a row that were behind the frame
	asked time.Time // by the hub, at last
}

func newTaken(n *Node, p Place, s store.Stream) *taken {
	t := &taken{
		node: n, place: p, stream: s, topics: map[string]*held{},
		changed: make(chan struct{}, 1), wake: make(chan struct{}, 1),
	}
	time.AfterFunc(keptFor, t.idle)
	return t
}

// idle lets go of what nobody listens to, unless somebody was about to a moment ago.
func (t *taken) idle() {
	t.mu.Lock()
	defer t.mu.Unlock()
	switch {
	case t.follows:
	case time.Since(t.found) < keptFor:
		time.AfterFunc(keptFor, t.idle)
	default:
		t.node.forget(t)
	}
}

// has says whether there is what a topic is about.
func (t *taken) has(kind, of string) bool {
	topic := kind
	if of != "" {
		topic += "/" + of
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	h := t.topics[live.Public(topic)]
	return h != nil && h.there
}

// knows says whether a giver has told of all these topics lately.
func (t *taken) knows(topics map[string]string) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.found = time.Now()
	if !t.follows || t.gone || time.Since(t.heard) > silentFor {
		return false
	}
	for topic := range topics {
		if h := t.topics[topic]; h == nil || !h.there {
			return false
		}
	}
	return true
}

// sums are what it has of topics.
func (t *taken) sums(topics map[string]string) map[string]string {
	t.mu.Lock()
	defer t.mu.Unlock()
	have := map[string]string{}
	for topic := range topics {
		have[topic] = t.want(topic).frame.Sum
	}
	return have
}

// take takes what was answered to a question for topics.
func (t *taken) take(a answer, asked map[string]string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.giver, t.heard, t.gone = a.Giver, time.Now(), false
	if !t.follows {
		t.found = t.heard
	}
	for topic := range asked {
		h := t.want(topic)
		h.there = false
	}
	for _, topic := range a.There {
		t.want(topic).there = true
	}
	for _, f := range a.Frames {
		t.putAnswer(f)
	}
	if t.follows {
		t.subscribe()
	}
}

// want is a topic that somebody wants. The caller holds mu.
func (t *taken) want(topic string) *held {
	h := t.topics[topic]
	if h == nil {
		h = &held{asked: time.Now()}
		t.topics[topic] = h
	}
	return h
}

// put takes a frame. An older one does not replace a newer one: a server that others are
// ahead of catches up. The caller holds mu.
func (t *taken) put(f frame) {
	h := t.topics[f.Topic]
	if h == nil || f.Sum == h.frame.Sum || f.Seq < h.frame.Seq {
		return
	}
	h.frame, h.there, h.older = f, true, 0
	tell(t.changed)
}

// putAnswer is put of an answer. One that stays behind for so many questions is what the
// log holds now: it was restored from a copy. The caller holds mu.
func (t *taken) putAnswer(f frame) {
	const restored = 3
	if h := t.topics[f.Topic]; h != nil && f.Seq < h.frame.Seq {
		if h.older++; h.older >= restored {
			h.frame = frame{}
		}
	}
	t.put(f)
}

// tell signals, unless a signal waits already.
func tell(c chan struct{}) {
	select {
	case c <- struct{}{}:
	default:
	}
}

// Watch follows the stream until its second result is called; see live.Source.
func (t *taken) Watch() (<-chan struct{}, func()) {
	ctx, stop := context.WithCancel(context.Background())
	t.mu.Lock()
	t.follows = true
	t.watch++
	watch := t.watch
	t.subscribe()
	t.mu.Unlock()
	tell(t.wake) // what changed before it was followed
	go t.follow(ctx, watch)
	return t.changed, stop
}

func (t *taken) follow(ctx context.Context, watch int) {
	defer t.end(watch)
	tick := time.NewTicker(askEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		case <-t.wake:
		}
		t.ask(ctx)
	}
}

// ask asks for all that is wanted, and says so where nobody answers.
func (t *taken) ask(ctx context.Context) {
	for more := true; more; {
		t.mu.Lock()
		now := time.Now()
		maps.DeleteFunc(t.topics, func(_ string, h *held) bool { return now.Sub(h.asked) > wantedFor })
		have, name := map[string]string{}, t.giver
		for topic, h := range t.topics {
			have[topic] = h.frame.Sum
		}
		t.mu.Unlock()
		a, err := t.node.ask(ctx, name, question{t.place, have})
		if ctx.Err() != nil {
			return
		}
		if err == nil {
			t.take(a, have)
			more = a.More
			continue
		}
		no, _ := refusal.As(err)
		t.mu.Lock()
		if no != nil && slices.Contains(forGood, no.Code) || time.Since(t.heard) > silentFor {
			t.gone = true
			tell(t.changed)
		}
		t.giver = ""
		t.mu.Unlock()
		return
	}
}

// forGood are the refusals after which there is nothing to wait for.
var forGood = []refusal.Code{"no-meet", "no-club", "several-clubs"}

// subscribe takes what comes between the questions. The caller holds mu.
func (t *taken) subscribe() {
	subject := framesSubject(t.giver, t.stream)
	if t.giver == "" || subject == t.frames {
		return
	}
	t.cancel()
	frames, err := t.node.Broker.Subscribe(subject, func(message []byte) {
		var f frame
		if json.Unmarshal(message, &f) != nil {
			return
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		if f.Gone {
			t.gone = true
			tell(t.changed)
			return
		}
		t.put(f)
	})
	if err == nil {
		t.ends = append(t.ends, frames)
	}
	speed, no := t.node.Broker.Subscribe(speedOf+token(t.stream), func(message []byte) { hear(message, t.node.hub.Tell) })
	if no == nil {
		t.ends = append(t.ends, speed)
	}
	if err = errors.Join(err, no); err != nil {
		t.node.Log.Warn("the broker lets nobody listen; asking goes on", "error", err)
		return
	}
	t.frames = subject
}

// cancel ends the subscriptions. The caller holds mu.
func (t *taken) cancel() {
	for _, end := range t.ends {
		end()
	}
	t.ends, t.frames = nil, ""
}

// end ends a watch, unless another one has begun.
func (t *taken) end(watch int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.watch != watch {
		return
	}
	t.follows = false
	t.cancel()
	time.AfterFunc(keptFor, t.idle)
}

// Look is the stream as it was told last; see live.Source.
func (t *taken) Look(context.Context) (live.Seen, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.gone {
		return live.Seen{Gone: true}, nil
	}
	return live.Seen{Shows: t.shows, Data: t.data}, nil
}

// shows says whether a topic may have something to show. Whoever asks wants it.
func (t *taken) shows(topic string) bool {
	if live.IsSpeed(topic) {
		return false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	h, known := t.topics[topic]
	if !known {
		t.want(topic)
		tell(t.wake)
		return true
	}
	h.asked = time.Now()
	return h.there
}

func (t *taken) data(topic string) (live.Content, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	h := t.topics[topic]
	if h == nil || h.frame.Sum == "" {
		return live.Content{}, false
	}
	f := h.frame
	return live.Content{Text: f.Data, Seq: f.Seq, Put: func(to []byte) []byte { return append(to, f.Data...) }}, true
}
