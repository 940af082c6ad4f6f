package live

import (
	"bytes"
	"context"
	"encoding/json"
	"log/slog"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/domain/journal"
)

// source is a stream as a room looks at it.
type source interface {
	// watch signals after changes.
	watch() (<-chan struct{}, func())
	// look returns the position now, and a function that gives a topic's data
	// without what changes at every position; false where there is no such thing.
	look(ctx context.Context) (head journal.Head, data func(topic string) (any, bool), err error)
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

	// updating is held from a look at the source until its frames are handed out,
	// so that no older look overtakes a newer one. It guards topics.
	updating sync.Mutex
	topics   map[string]*shown

	mu        sync.Mutex // held for moments only: live speed passes here
	listeners map[*listener]struct{}
}

// shown is the newest frame of a topic.
type shown struct {
	still []byte // the data without its position, to see whether it changed
	frame *websocket.PreparedMessage
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

// enter adds a listener.
func (r *room) enter(l *listener) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.listeners[l] = struct{}{}
}

// welcome sends a listener that has entered its current topics. Only what nobody
// else listens to has to be encoded: when all phones of a hall come back at once,
// each topic is encoded once.
func (r *room) welcome(ctx context.Context, l *listener) error {
	r.updating.Lock()
	defer r.updating.Unlock()
	missing := false
	for topic := range l.topics {
		missing = missing || r.topics[topic] == nil
	}
	if missing {
		if err := r.updateAlone(ctx, func(topic string) bool { return r.topics[topic] == nil }); err != nil {
			return err
		}
	}
	for topic := range l.topics {
		if now := r.topics[topic]; now != nil {
			l.put(topic, now.frame)
		}
	}
	return nil
}

// leave removes a listener and says whether it was the last.
func (r *room) leave(l *listener) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	delete(r.listeners, l)
	return len(r.listeners) == 0
}

func (r *room) refresh(ctx context.Context) {
	r.updating.Lock()
	defer r.updating.Unlock()
	if err := r.updateAlone(ctx, func(string) bool { return true }); err != nil && ctx.Err() == nil {
		r.log.Warn("a screen's topics could not be read; the next change tries again", "error", err)
	}
}

// updateAlone encodes those of the topics that anybody listens to which are due,
// and hands the changed ones to their listeners. The caller holds updating.
func (r *room) updateAlone(ctx context.Context, due func(topic string) bool) error {
	head, data, err := r.source.look(ctx)
	if err != nil {
		return err
	}
	wanted := r.wanted()
	changed := map[string]*websocket.PreparedMessage{}
	for topic := range wanted {
		if due(topic) && r.encode(topic, head, data) {
			changed[topic] = r.topics[topic].frame
		}
	}
	for topic := range r.topics {
		if !wanted[topic] {
			delete(r.topics, topic)
		}
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	for l := range r.listeners {
		for topic, frame := range changed {
			if l.topics[topic] {
				l.put(topic, frame)
			}
		}
	}
	return nil
}

// wanted are the topics that anybody listens to.
func (r *room) wanted() map[string]bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	wanted := map[string]bool{}
	for l := range r.listeners {
		for topic := range l.topics {
			wanted[topic] = true
		}
	}
	return wanted
}

// encode renews a topic's frame and says whether it changed. The data is
// computed once: standings cost far more than their JSON.
func (r *room) encode(topic string, head journal.Head, data func(string) (any, bool)) bool {
	value, there := data(topic)
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
	frame, err := encodeFrame(topic, &head.Seq, placed(value, head))
	if err != nil {
		r.log.Error("a topic cannot be encoded", "topic", topic, "error", err)
		return false
	}
	r.topics[topic] = &shown{still, frame}
	return true
}

// telemetry hands a frame without a position to those who listen to the topic or
// to all of its kind.
func (r *room) telemetry(kind, topic string, frame *websocket.PreparedMessage) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for l := range r.listeners {
		if l.topics[topic] || l.topics[kind] {
			l.putTelemetry(topic, frame)
		}
	}
}
