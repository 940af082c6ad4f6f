package relay

import (
	"context"
	"strings"
	"sync"
)

// memory is a broker in memory. Messages come in the order in which they were sent, from a
// goroutine of each subscriber.
type memory struct {
	mu      sync.Mutex
	takers  map[*taker]struct{}
	givers  []*answerer
	turn    int
	cut     bool // nothing gets through
	dropped func(subject string) bool
	changed func(message []byte) []byte // what becomes of each on its way
	asked   int
}

type taker struct {
	subject string
	comes   chan []byte
}

type answerer struct {
	subject string
	answer  func(context.Context, []byte) []byte
}

func newMemory() *memory { return &memory{takers: map[*taker]struct{}{}} }

func (m *memory) Publish(subject string, message []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.cut || m.dropped != nil && m.dropped(subject) {
		return nil
	}
	message = m.become(message)
	for t := range m.takers {
		before, any := strings.CutSuffix(t.subject, "*")
		if t.subject == subject || any && strings.HasPrefix(subject, before) {
			t.comes <- message
		}
	}
	return nil
}

func (m *memory) Subscribe(subject string, take func([]byte)) (func(), error) {
	t := &taker{subject, make(chan []byte, 1024)}
	ctx, stop := context.WithCancel(context.Background())
	m.mu.Lock()
	m.takers[t] = struct{}{}
	m.mu.Unlock()
	go func() {
		for {
			select {
			case <-ctx.Done():
				return
			case message := <-t.comes:
				take(message)
			}
		}
	}()
	return func() {
		m.mu.Lock()
		delete(m.takers, t)
		m.mu.Unlock()
		stop()
	}, nil
}

func (m *memory) Answer(subject string, answer func(context.Context, []byte) []byte) (func(), error) {
	a := &answerer{subject, answer}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.givers = append(m.givers, a)
	return func() {
		m.mu.Lock()
		defer m.mu.Unlock()
		for i, one := range m.givers {
			if one == a {
				m.givers = append(m.givers[:i:i], m.givers[i+1:]...)
			}
		}
	}, nil
}

func (m *memory) Ask(ctx context.Context, subject string, question []byte) ([]byte, error) {
	m.mu.Lock()
	var all []*answerer
	for _, a := range m.givers {
		if a.subject == subject {
			all = append(all, a)
		}
	}
	m.turn++
	m.asked++
	turn, cut := m.turn, m.cut
	question = m.become(question)
	m.mu.Unlock()
	if cut {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	if len(all) == 0 {
		return nil, nil
	}
	answer := all[turn%len(all)].answer(ctx, question)
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.become(answer), nil
}

func (m *memory) become(message []byte) []byte {
	if m.changed == nil {
		return message
	}
	return m.changed(message)
}
