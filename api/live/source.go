package live

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/api/view"
)

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
