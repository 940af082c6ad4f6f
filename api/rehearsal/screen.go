package rehearsal

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// screen listens to the live feed and keeps the newest frame of each topic.
type screen struct {
	url  string
	slow time.Duration // pauses between reads: a screen in a bad network

	mu     sync.Mutex
	topics map[string]liveFrame
	frames int
	conns  int
}

// liveFrame is a frame of the feed.
type liveFrame struct {
	Topic string          `json:"topic"`
	Seq   int64           `json:"seq"`
	Data  json.RawMessage `json:"data"`
}

func newScreen(base, meet string, topics []string, slow time.Duration) *screen {
	url := "ws" + strings.TrimPrefix(base, "http") + "/api/v1/meets/" + meet + "/live?topics=" + strings.Join(topics, ",")
	return &screen{url: url, slow: slow, topics: map[string]liveFrame{}}
}

// listen reads until ctx ends and connects again whenever it is cut off.
func (s *screen) listen(ctx context.Context) {
	for ctx.Err() == nil {
		s.once(ctx)
		select {
		case <-ctx.Done():
		case <-time.After(retryEvery):
		}
	}
}

func (s *screen) once(ctx context.Context) {
	conn, answer, err := websocket.DefaultDialer.DialContext(ctx, s.url, http.Header{})
	if err != nil {
		if answer != nil {
			answer.Body.Close()
		}
		return // the server is away; again later
	}
	defer conn.Close()
	stop := context.AfterFunc(ctx, func() { conn.Close() })
	defer stop()
	s.mu.Lock()
	s.conns++
	s.mu.Unlock()
	for {
		var f liveFrame
		if err := conn.ReadJSON(&f); err != nil {
			return
		}
		s.mu.Lock()
		s.topics[f.Topic] = f
		s.frames++
		s.mu.Unlock()
		if s.slow > 0 {
			select {
			case <-ctx.Done():
				return
			case <-time.After(s.slow):
			}
		}
	}
}

// newest is the newest frame of a topic.
func (s *screen) newest(topic string) (liveFrame, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f, there := s.topics[topic]
	return f, there
}

func (s *screen) counts() (frames, conns int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.frames, s.conns
}
