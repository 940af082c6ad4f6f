package live

import (
	"context"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// Times of a connection.
const (
	writeWithin = 10 * time.Second // a frame has to leave
	pingEvery   = 20 * time.Second
	pongWithin  = 60 * time.Second // then the listener is gone
	mostRead    = 512              // bytes; listeners only send pongs and closes
)

// listener is one connection with a slot a topic.
type listener struct {
	topics map[string]bool
	wake   chan struct{}

	mu    sync.Mutex
	slots map[string][]byte // the newest unsent frame of each topic
	order []string          // topics with a frame, oldest first
}

func newListener(topics []string) *listener {
	l := &listener{topics: map[string]bool{}, wake: make(chan struct{}, 1), slots: map[string][]byte{}}
	for _, t := range topics {
		l.topics[t] = true
	}
	return l
}

// put replaces the frame in a topic's slot; it never waits.
func (l *listener) put(topic string, text []byte) {
	l.mu.Lock()
	if _, waiting := l.slots[topic]; !waiting {
		l.order = append(l.order, topic)
	}
	l.slots[topic] = text
	l.mu.Unlock()
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

// take empties the oldest slot.
func (l *listener) take() ([]byte, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.order) == 0 {
		return nil, false
	}
	topic := l.order[0]
	l.order = l.order[1:]
	text := l.slots[topic]
	delete(l.slots, topic)
	return text, true
}

// serve writes frames until the connection or ctx ends.
func (l *listener) serve(ctx context.Context, conn *websocket.Conn) {
	defer conn.Close()
	gone := make(chan struct{})
	go l.read(conn, gone)
	ping := time.NewTicker(pingEvery)
	defer ping.Stop()
	for {
		select {
		case <-gone:
			return
		case <-ctx.Done():
			deadline := time.Now().Add(time.Second)
			goingAway := websocket.FormatCloseMessage(websocket.CloseGoingAway, "the server stops; connect again")
			if conn.WriteControl(websocket.CloseMessage, goingAway, deadline) != nil {
				return // it is gone already
			}
			return
		case <-ping.C:
			if conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeWithin)) != nil {
				return
			}
		case <-l.wake:
			if !l.flush(conn) {
				return
			}
		}
	}
}

func (l *listener) flush(conn *websocket.Conn) bool {
	for {
		text, there := l.take()
		if !there {
			return true
		}
		if conn.SetWriteDeadline(time.Now().Add(writeWithin)) != nil ||
			conn.WriteMessage(websocket.TextMessage, text) != nil {
			return false
		}
	}
}

// read notices pongs and the end of the connection; what else a listener sends
// is ignored.
func (l *listener) read(conn *websocket.Conn, gone chan<- struct{}) {
	defer close(gone)
	conn.SetReadLimit(mostRead)
	alive := func(string) error { return conn.SetReadDeadline(time.Now().Add(pongWithin)) }
	conn.SetPongHandler(alive)
	if alive("") != nil {
		return
	}
	for {
		if _, _, err := conn.ReadMessage(); err != nil {
			return
		}
	}
}
