package relay

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	"benchmeet/api/live"
	"benchmeet/api/store"
)

// line is a stream whose changes a giver puts on the broker while nodes ask for it.
type line struct {
	giver   *Giver
	stream  store.Stream
	source  live.Source
	subject string
	changes <-chan struct{}
	unwatch func()
	wake    chan struct{}

	mu     sync.Mutex // held from a look until what changed is on the broker, so that none overtakes another
	wanted map[string]*wanted
	closed bool
}

// wanted is a topic that a node asked for.
type wanted struct {
	until   time.Time
	text    []byte // the data without its position
	frame   frame  // without a sum where there is nothing to show
	changed bool   // by the last look
}

func newLine(g *Giver, s store.Stream) *line {
	l := &line{
		giver: g, stream: s, source: g.Feed.Source(s), subject: framesSubject(g.name, s),
		wake: make(chan struct{}, 1), wanted: map[string]*wanted{},
	}
	l.changes, l.unwatch = l.source.Watch()
	return l
}

// give is what is otherwise than a node has it; more where not all of it fits into an
// answer. The topics are put on from now on. open is false where the line has ended.
func (l *line) give(ctx context.Context, have map[string]string) (frames []frame, more, open bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return nil, false, false, nil
	}
	until, fresh := time.Now().Add(wantedFor), map[string]bool{}
	for topic := range have {
		w, there := l.wanted[topic]
		if !there {
			w = &wanted{}
			l.wanted[topic] = w
		}
		fresh[topic] = w.frame.Sum == ""
		w.until = until
	}
	if err := l.renew(ctx, func(topic string) bool { return fresh[topic] }); err != nil {
		return nil, false, true, err
	}
	size := 0
	for _, topic := range slices.Sorted(maps.Keys(have)) {
		f := l.wanted[topic].frame
		if f.Sum == "" || f.Sum == have[topic] {
			continue
		}
		if size += len(f.Data); len(frames) > 0 && size > mostAnswer {
			return frames, true, true, nil
		}
		frames = append(frames, f)
	}
	return frames, false, true, nil
}

// follow puts what changes on the broker until nobody asks any more.
func (l *line) follow(ctx context.Context) {
	defer l.unwatch()
	defer l.giver.over(l)
	live.Follow(ctx, l.changes, l.wake, live.LookEvery, func() bool { return l.putOn(ctx) })
}

// putOn looks at the stream and puts on what changed. asked says that somebody asks for it.
func (l *line) putOn(ctx context.Context) (asked bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	maps.DeleteFunc(l.wanted, func(_ string, w *wanted) bool { return now.After(w.until) })
	if len(l.wanted) == 0 {
		l.closed = true
		return false
	}
	if err := l.renew(ctx, func(string) bool { return true }); err != nil && ctx.Err() == nil {
		l.giver.Log.Warn("what feed nodes ask for could not be read; the next change tries again", "stream", l.stream.String(), "error", err)
	}
	return true
}

// renew looks at those of the topics that are due, and puts those on that are otherwise
// than before. The caller holds mu.
func (l *line) renew(ctx context.Context, due func(topic string) bool) error {
	all := slices.DeleteFunc(slices.Sorted(maps.Keys(l.wanted)), func(topic string) bool { return live.IsSpeed(topic) || !due(topic) })
	if len(all) == 0 {
		return nil
	}
	seen, err := l.source.Look(ctx)
	if err != nil {
		return err
	}
	if seen.Gone {
		l.put(frame{Gone: true})
		return nil
	}
	for _, topic := range all {
		w := l.wanted[topic]
		if !seen.Shows(topic) {
			w.text, w.frame = nil, frame{}
			continue
		}
		if err := w.show(topic, seen); err != nil {
			l.giver.Log.Error("a topic cannot be shown", "topic", topic, "error", err)
		} else if w.changed {
			l.put(w.frame)
		}
	}
	return nil
}

// show looks what a topic shows. A fault of the program fails that topic alone.
func (w *wanted) show(topic string, seen live.Seen) (err error) {
	defer live.Fault(&err)
	w.changed = false
	c, there := seen.Data(topic)
	if !there || w.frame.Sum != "" && bytes.Equal(w.text, c.Text) {
		return nil
	}
	w.text, w.frame, w.changed = c.Text, frame{Topic: topic, Seq: c.Seq, Sum: sumOf(c.Text), Data: c.Put(nil)}, true
	return nil
}

// put puts a frame on. What the broker does not take now is in the answer to the next
// question.
func (l *line) put(f frame) {
	if err := l.giver.Broker.Publish(l.subject, encode(f)); err != nil {
		l.giver.Log.Debug("the broker does not take a frame", "topic", f.Topic, "error", err)
	}
}
