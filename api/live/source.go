package live

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/api/view"
)

// Source is a stream as the feed looks at it. Its methods may be called from many
// goroutines.
type Source interface {
	// Watch signals after changes, until its second result is called.
	Watch() (<-chan struct{}, func())
	Look(ctx context.Context) (Seen, error)
}

// Seen is a stream at a moment.
type Seen struct {
	Shows func(topic string) bool // whether there is such a topic, with data
	// Data gives what a topic shows; false where there is no such thing.
	Data func(topic string) (Content, bool)
	// Gone says that nobody may listen any more.
	Gone bool
}

// Content is what a topic shows.
type Content struct {
	// Text is JSON without what changes at every position, by which a change is known.
	Text []byte
	Seq  int64
	// Put appends the JSON with the position.
	Put func(to []byte) []byte
}

// Source is a stream as this server has it.
func (h *Hub) Source(s store.Stream) Source {
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

func (m meetSource) Watch() (<-chan struct{}, func()) { return m.hub.Meets.Watch(m.stream) }

func (m meetSource) Look(ctx context.Context) (Seen, error) {
	snapshot, err := m.hub.Meets.At(ctx, m.stream, 0)
	if err != nil {
		return Seen{}, err
	}
	if snapshot.State.Away.Meet {
		return Seen{Gone: true}, nil
	}
	names, err := m.hub.Names.Names(ctx, m.stream.Club)
	if err != nil {
		return Seen{}, err
	}
	v := view.MeetView{ID: m.id, State: snapshot.State, Head: snapshot.Head, Names: names}
	return Seen{Shows: meetTopics(snapshot.State).shows, Data: func(topic string) (Content, bool) {
		shown, there := m.hub.Read.Show(m.stream, v, topic)
		if !there {
			return Content{}, false
		}
		return Content{shown.Text(), shown.Head.Seq, shown.Put}, true
	}}, nil
}

type clubSource struct {
	hub    *Hub
	stream store.Stream
}

func (c clubSource) Watch() (<-chan struct{}, func()) { return c.hub.Clubs.Watch(c.stream) }

func (c clubSource) Look(ctx context.Context) (Seen, error) {
	snapshot, err := c.hub.Clubs.At(ctx, c.stream, 0)
	if err != nil {
		return Seen{}, err
	}
	return Seen{Shows: practiceTopics(snapshot.State).shows, Data: func(topic string) (Content, bool) {
		return practiceTopic(snapshot.State, topic)
	}}, nil
}
