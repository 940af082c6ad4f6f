package rehearsal

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
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
	var text bytes.Buffer
	for {
		_, r, err := conn.NextReader()
		if err != nil {
			return
		}
		text.Reset()
		if _, err := text.ReadFrom(r); err != nil {
			return
		}
		f, err := readFrame(text.Bytes())
		if err != nil {
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

// readFrame reads what stands before the data of a frame and leaves the data as they
// are: only the newest frame of a topic is looked at in the end, and a screen that reads
// hundreds of kilobytes for each of a day's events would cost more than the server.
func readFrame(text []byte) (liveFrame, error) {
	var f liveFrame
	d := json.NewDecoder(bytes.NewReader(text))
	if _, err := d.Token(); err != nil { // the brace
		return f, err
	}
	for d.More() {
		field, err := d.Token()
		switch {
		case err != nil:
			return f, err
		case field == "topic":
			err = d.Decode(&f.Topic)
		case field == "seq":
			err = d.Decode(&f.Seq)
		case field == "data":
			rest := bytes.TrimLeft(text[d.InputOffset():], ": ")
			f.Data = bytes.Clone(bytes.TrimSuffix(rest, []byte("}")))
			return f, nil
		default:
			err = fmt.Errorf("a frame has a field %v", field)
		}
		if err != nil {
			return f, err
		}
	}
	return f, errors.New("a frame has no data")
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
