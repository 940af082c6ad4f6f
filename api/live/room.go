package live

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"maps"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"benchmeet/api/read"
)

// LookEvery is how often a source is looked at without anybody having told: another server
// may have erased a name, which is no event of the meet.
const LookEvery = 5 * time.Second

// room is the listeners of one stream. Its goroutine follows the stream while
// anybody listens.
type room struct {
	source Source
	log    *slog.Logger
	stop   context.CancelFunc
	// names wakes the room's goroutine where a name has changed.
	names chan struct{}

	// updating is held from a look at the source until its frames are handed out,
	// so that no older look overtakes a newer one. It guards the texts of topics, and
	// numbered.
	updating sync.Mutex
	numbered int64 // the newest frame of the log
	// published is the newest frame that couriers may send: it moves when all frames of
	// a look are in their topics.
	published atomic.Int64

	mu sync.Mutex // held for moments only: live speed passes here
	// topics are those that anybody asks for, also those that are not there: they cost
	// their place in this table and nothing else.
	topics map[string]*topic
	groups map[string]*group
	speeds map[string]*frame // the newest live speed of each topic
	spoken int64             // the newest frame of live speed
	// stale says that a name has changed since the last look: no listener is
	// welcomed with what was shown before it.
	stale bool
}

// topic is what somebody listens to, as it is now.
type topic struct {
	name   string
	asked  int                   // groups that ask for it; guarded by the room's mu
	text   []byte                // the data without its position, to see whether it changed
	newest atomic.Pointer[frame] // nil where it is not there
}

// newRoom follows a source until stop is called. It looks by itself so often;
// 0 is never.
func newRoom(src Source, log *slog.Logger, every time.Duration) *room {
	ctx, stop := context.WithCancel(context.Background())
	r := &room{
		source: src, log: log, stop: stop, names: make(chan struct{}, 1),
		topics: map[string]*topic{}, groups: map[string]*group{}, speeds: map[string]*frame{},
	}
	changes, unwatch := src.Watch()
	go func() {
		defer unwatch()
		Follow(ctx, changes, r.names, every, func() bool {
			r.refresh(ctx)
			return true
		})
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

// enter adds a listener that asks for topics, in the care of a courier. It is sent
// nothing until it is welcomed.
func (r *room) enter(l *listener, c *courier, topics []string) {
	topics = slices.Compact(slices.Sorted(slices.Values(topics)))
	key := fmt.Sprintf("%p %s", c, strings.Join(topics, ","))
	r.mu.Lock()
	defer r.mu.Unlock()
	g := r.groups[key]
	if g == nil {
		g = &group{key: key, room: r, courier: c, served: r.published.Load()}
		for _, name := range topics {
			if IsSpeed(name) {
				g.speeds = append(g.speeds, name)
				continue
			}
			t := r.topics[name]
			if t == nil {
				t = &topic{name: name}
				r.topics[name] = t
			}
			t.asked++
			g.topics = append(g.topics, t)
		}
		r.groups[key] = g
	}
	l.told = r.spoken // what was driven before is no live speed
	g.add(l)
}

// admit has a listener that has entered get its current topics. Only what nobody
// else listens to has to be encoded: when all phones of a hall come back at once,
// each topic is encoded once.
func (r *room) admit(ctx context.Context, l *listener) error {
	r.updating.Lock()
	defer r.updating.Unlock()
	missing := slices.ContainsFunc(l.group.topics, func(t *topic) bool { return t.newest.Load() == nil })
	if stale := r.takeStale(); stale || missing {
		if err := r.updateAlone(ctx, func(t *topic) bool { return stale || t.newest.Load() == nil }); err != nil {
			return err
		}
	}
	l.admit()
	return nil
}

// leave removes a listener and says whether it was the last.
func (r *room) leave(l *listener) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	g := l.group
	if g.remove(l) {
		delete(r.groups, g.key)
		for _, t := range g.topics {
			if t.asked--; t.asked == 0 {
				delete(r.topics, t.name)
			}
		}
	}
	return len(r.groups) == 0
}

func (r *room) refresh(ctx context.Context) {
	r.updating.Lock()
	defer r.updating.Unlock()
	r.takeStale()
	if err := r.updateAlone(ctx, func(*topic) bool { return true }); err != nil && ctx.Err() == nil {
		r.log.Warn("a screen's topics could not be read; the next change tries again", "error", err)
	}
}

// updateAlone encodes those of the topics that anybody listens to which are due,
// and has the changed ones handed to their listeners. The caller holds updating. A
// fault of the program in one topic is logged and fails that topic alone.
func (r *room) updateAlone(ctx context.Context, due func(*topic) bool) (err error) {
	defer Fault(&err)
	now, err := r.source.Look(ctx)
	if err != nil {
		return err
	}
	if now.Gone {
		r.end()
		return nil
	}
	before := r.numbered
	for _, t := range r.asked() {
		switch {
		case !now.Shows(t.name):
			t.text = nil
			t.newest.Store(nil)
		case due(t):
			r.encode(t, now)
		}
	}
	if r.numbered == before {
		return nil
	}
	r.published.Store(r.numbered)
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, g := range r.groups {
		if g.changedAfter(before) {
			g.courier.changed(g)
		}
	}
	return nil
}

// asked are the topics that anybody listens to, there or not.
func (r *room) asked() []*topic {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Collect(maps.Values(r.topics))
}

// end has all who listen cut off. The caller holds updating.
func (r *room) end() {
	r.mu.Lock()
	var all []*listener
	for _, g := range r.groups {
		g.each(func(l *listener) { all = append(all, l) })
	}
	for _, t := range r.topics {
		t.text = nil
		t.newest.Store(nil)
	}
	r.mu.Unlock()
	for _, l := range all {
		l.end("there is nothing to listen to any more")
	}
}

// encode renews a topic's frame where its data changed.
func (r *room) encode(t *topic, now Seen) {
	if err := r.renew(t, now); err != nil {
		r.log.Error("a topic cannot be shown", "topic", t.name, "error", err)
	}
}

// renew is encode that says what went wrong. The frame is for all who listen.
func (r *room) renew(t *topic, now Seen) (err error) {
	defer Fault(&err)
	data, there := now.Data(t.name)
	if !there || t.newest.Load() != nil && bytes.Equal(t.text, data.Text) {
		return nil
	}
	f, err := encodeFrame(strings.TrimSuffix(t.name, read.ForAll), &data.Seq, data.Put)
	if err != nil {
		return err
	}
	r.numbered++
	f.number, t.text = r.numbered, data.Text
	t.newest.Store(f)
	return nil
}

// telemetry hands a frame without a position to those who listen to its topic or
// to all of its kind. It may wait a little, and a newer one takes its place.
func (r *room) telemetry(kind string, f *frame) {
	r.mu.Lock()
	defer r.mu.Unlock()
	heard := false
	for _, g := range r.groups {
		if slices.Contains(g.speeds, f.topic) || slices.Contains(g.speeds, kind) {
			heard = true
			g.courier.speaks(g)
		}
	}
	if heard {
		r.spoken++
		f.number = r.spoken
		r.speeds[f.topic] = f
	}
}

// speedsAfter appends the newest live speed of topics after a number, and says up to
// which number that is all.
func (r *room) speedsAfter(topics []string, after int64, to []*frame) ([]*frame, int64) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if after == r.spoken {
		return to, after
	}
	all := slices.Contains(topics, "speed")
	for name, f := range r.speeds {
		if f.number > after && (all || slices.Contains(topics, name)) {
			to = insert(to, f)
		}
	}
	return to, r.spoken
}
