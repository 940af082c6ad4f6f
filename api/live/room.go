package live

import (
	"bytes"
	"context"
	"encoding/json"
	"log/slog"
	"sync"
	"time"
)

// source is a stream as a room looks at it.
type source interface {
	// watch signals after changes.
	watch() (<-chan struct{}, func())
	// look returns the position now, and a function that gives a topic's data:
	// with still, without what changes at every position.
	look(ctx context.Context) (seq int64, data func(topic string, still bool) (any, bool), err error)
}

// lookEvery is how often a room looks without having been told: another server
// may have erased a name, which is no event of the meet.
const lookEvery = 5 * time.Second

// room is the listeners of one stream. Its goroutine follows the stream while
// anybody listens.
type room struct {
	source source
	log    *slog.Logger
	stop   context.CancelFunc

	mu        sync.Mutex
	listeners map[*listener]struct{}
	topics    map[string]*shown
}

// shown is the newest frame of a topic.
type shown struct {
	still []byte // the data without its position, to see whether it changed
	frame []byte
}

func newRoom(src source, log *slog.Logger) *room {
	ctx, stop := context.WithCancel(context.Background())
	r := &room{source: src, log: log, stop: stop, listeners: map[*listener]struct{}{}, topics: map[string]*shown{}}
	changes, unwatch := src.watch()
	look := time.NewTicker(lookEvery)
	go func() {
		defer unwatch()
		defer look.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-changes:
			case <-look.C:
			}
			r.refresh(ctx)
		}
	}()
	return r
}

// join adds a listener and sends it the current topics.
func (r *room) join(ctx context.Context, l *listener) error {
	r.mu.Lock()
	r.listeners[l] = struct{}{}
	r.mu.Unlock()
	return r.update(ctx, l)
}

// leave removes a listener and says whether it was the last.
func (r *room) leave(l *listener) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.listeners, l)
	return len(r.listeners) == 0
}

func (r *room) refresh(ctx context.Context) {
	if err := r.update(ctx, nil); err != nil && ctx.Err() == nil {
		r.log.Warn("a screen's topics could not be read; the next change tries again", "error", err)
	}
}

// update encodes the topics that are listened to and hands the changed ones to
// their listeners; all of its topics to the one who has just joined.
func (r *room) update(ctx context.Context, joined *listener) error {
	seq, data, err := r.source.look(ctx)
	if err != nil {
		return err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	wanted := map[string]bool{}
	for l := range r.listeners {
		for topic := range l.topics {
			wanted[topic] = true
		}
	}
	changed := map[string]bool{}
	for topic := range wanted {
		if r.encode(topic, seq, data) {
			changed[topic] = true
		}
	}
	for topic := range r.topics {
		if !wanted[topic] {
			delete(r.topics, topic)
		}
	}
	for l := range r.listeners {
		for topic := range l.topics {
			if now := r.topics[topic]; now != nil && (changed[topic] || l == joined) {
				l.put(topic, now.frame)
			}
		}
	}
	return nil
}

// encode renews a topic's frame and says whether it changed.
func (r *room) encode(topic string, seq int64, data func(string, bool) (any, bool)) bool {
	value, there := data(topic, true)
	if !there {
		return false
	}
	still, err := json.Marshal(value)
	if err != nil {
		r.log.Error("a topic cannot be encoded", "topic", topic, "error", err)
		return false
	}
	if old := r.topics[topic]; old != nil && bytes.Equal(old.still, still) {
		return false
	}
	value, _ = data(topic, false)
	text, err := encodeFrame(topic, &seq, value)
	if err != nil {
		r.log.Error("a topic cannot be encoded", "topic", topic, "error", err)
		return false
	}
	r.topics[topic] = &shown{still, text}
	return true
}

// telemetry hands a frame without a position to those who listen to the topic or
// to all of its kind.
func (r *room) telemetry(kind, topic string, text []byte) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for l := range r.listeners {
		if l.topics[topic] || l.topics[kind] {
			l.putTelemetry(topic, text)
		}
	}
}
