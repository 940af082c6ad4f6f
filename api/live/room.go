package live

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/read"
)

// source is a stream as a room looks at it.
type source interface {
	// watch signals after changes.
	watch() (<-chan struct{}, func())
	look(ctx context.Context) (seen, error)
}

// seen is a stream at a moment.
type seen struct {
	shows func(topic string) bool // whether there is such a topic, with data
	// data gives what a topic shows; false where there is no such thing.
	data func(topic string) (content, bool)
	// gone says that nobody may listen any more.
	gone bool
}

// content is what a topic shows.
type content struct {
	// text is JSON without what changes at every position, by which a change is known.
	text []byte
	seq  int64
	// put appends the JSON with the position.
	put func(to []byte) []byte
}

// lookEvery is how often a room looks without having been told: another server
// may have erased a name, which is no event of the meet.
const lookEvery = 5 * time.Second

// A change after a quiet moment is shown at once. Then the room rests, so that changes
// that follow are shown together where showing them takes long: restTimes as long as that
// took, which leaves a room a tenth of one processor, and no longer than restAtMost, an
// eye's blink.
const (
	restTimes  = 9
	restAtMost = telemetryEvery
)

// room is the listeners of one stream. Its goroutine follows the stream while
// anybody listens.
type room struct {
	source source
	log    *slog.Logger
	stop   context.CancelFunc
	// names wakes the room's goroutine where a name has changed.
	names chan struct{}

	// updating is held from a look at the source until its frames are handed out,
	// so that no older look overtakes a newer one. It guards topics.
	updating sync.Mutex
	topics   map[string]*shown

	mu        sync.Mutex // held for moments only: live speed passes here
	listeners map[*listener]struct{}
	// asked are the listeners of each topic that anybody asks for, also of those
	// that are not there: they cost their place in this table and nothing else.
	asked map[string]map[*listener]struct{}
	// stale says that a name has changed since the last look: no listener is
	// welcomed with what was shown before it.
	stale bool
}

// shown is the newest frame of a topic.
type shown struct {
	text  []byte // the data without its position, to see whether it changed
	frame *websocket.PreparedMessage
}

// newRoom follows a source until stop is called. It looks by itself so often;
// 0 is never.
func newRoom(src source, log *slog.Logger, every time.Duration) *room {
	ctx, stop := context.WithCancel(context.Background())
	r := &room{
		source: src, log: log, stop: stop, names: make(chan struct{}, 1), topics: map[string]*shown{},
		listeners: map[*listener]struct{}{}, asked: map[string]map[*listener]struct{}{},
	}
	changes, unwatch := src.watch()
	go func() {
		defer unwatch()
		var tick <-chan time.Time
		if every > 0 {
			look := time.NewTicker(every)
			defer look.Stop()
			tick = look.C
		}
		for {
			select {
			case <-ctx.Done():
				return
			case <-changes:
			case <-r.names:
			case <-tick:
			}
			began := time.Now()
			r.refresh(ctx)
			select {
			case <-ctx.Done():
				return
			case <-time.After(min(restAtMost, restTimes*time.Since(began))):
			}
		}
	}()
	return r
}

// namesChanged has the room's topics shown anew, soon and without waiting for it:
// who changes a name does not render the screens of the hall.
func (r *room) namesChanged() {
	r.mu.Lock()
	r.stale = true
	r.mu.Unlock()
	select {
	case r.names <- struct{}{}:
	default: // it has not looked since the last one
	}
}

// takeStale says whether a name has changed since it was asked last. It is asked in
// front of a look, so that a change beside the look is looked for again.
func (r *room) takeStale() (stale bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	stale, r.stale = r.stale, false
	return stale
}

// enter adds a listener.
func (r *room) enter(l *listener) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.listeners[l] = struct{}{}
	for topic := range l.topics {
		if r.asked[topic] == nil {
			r.asked[topic] = map[*listener]struct{}{}
		}
		r.asked[topic][l] = struct{}{}
	}
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
	if stale := r.takeStale(); stale || missing {
		if err := r.updateAlone(ctx, func(topic string) bool { return stale || r.topics[topic] == nil }); err != nil {
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
	for topic := range l.topics {
		if delete(r.asked[topic], l); len(r.asked[topic]) == 0 {
			delete(r.asked, topic)
		}
	}
	return len(r.listeners) == 0
}

func (r *room) refresh(ctx context.Context) {
	r.updating.Lock()
	defer r.updating.Unlock()
	r.takeStale()
	if err := r.updateAlone(ctx, func(string) bool { return true }); err != nil && ctx.Err() == nil {
		r.log.Warn("a screen's topics could not be read; the next change tries again", "error", err)
	}
}

// updateAlone encodes those of the topics that anybody listens to which are due,
// and hands the changed ones to their listeners. The caller holds updating. A
// fault of the program in one topic is logged and fails that topic alone.
func (r *room) updateAlone(ctx context.Context, due func(topic string) bool) (err error) {
	defer fault(&err)
	now, err := r.source.look(ctx)
	if err != nil {
		return err
	}
	if now.gone {
		r.end()
		return nil
	}
	wanted := r.wanted(now.shows)
	changed := map[string]*websocket.PreparedMessage{}
	for topic := range wanted {
		if due(topic) && r.encode(topic, now) {
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
	for topic, frame := range changed {
		for l := range r.asked[topic] {
			l.put(topic, frame)
		}
	}
	return nil
}

// end has all who listen cut off. The caller holds updating.
func (r *room) end() {
	clear(r.topics)
	r.mu.Lock()
	defer r.mu.Unlock()
	for l := range r.listeners {
		l.end()
	}
}

// fault makes an error of a panic: a fault of a rule must fail what met it and
// not the venue.
func fault(err *error) {
	if what := recover(); what != nil {
		*err = fmt.Errorf("this met a fault of the program: %v\n%s", what, debug.Stack())
	}
}

// wanted are the topics that anybody listens to and that are there.
func (r *room) wanted(there func(topic string) bool) map[string]bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	wanted := map[string]bool{}
	for topic := range r.asked {
		if there(topic) {
			wanted[topic] = true
		}
	}
	return wanted
}

// encode renews a topic's frame and says whether it changed.
func (r *room) encode(topic string, now seen) bool {
	changed, err := r.renew(topic, now)
	if err != nil {
		r.log.Error("a topic cannot be shown", "topic", topic, "error", err)
	}
	return changed
}

// renew is encode that says what went wrong. A frame is made where the data changed, and
// for all who listen.
func (r *room) renew(topic string, now seen) (changed bool, err error) {
	defer fault(&err)
	data, there := now.data(topic)
	if !there {
		return false, nil
	}
	if old := r.topics[topic]; old != nil && bytes.Equal(old.text, data.text) {
		return false, nil
	}
	frame, err := encodeFrame(strings.TrimSuffix(topic, read.ForAll), &data.seq, data.put)
	if err != nil {
		return false, err
	}
	r.topics[topic] = &shown{data.text, frame}
	return true, nil
}

// telemetry hands a frame without a position to those who listen to the topic or
// to all of its kind.
func (r *room) telemetry(kind, topic string, frame *websocket.PreparedMessage) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, asked := range []string{topic, kind} {
		for l := range r.asked[asked] {
			l.putTelemetry(topic, frame)
		}
	}
}
