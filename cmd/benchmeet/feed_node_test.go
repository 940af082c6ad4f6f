package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/broker/brokertest"
	"benchmeet/api/gen"
	"benchmeet/api/store/postgres/pgtest"
)

// screen is what a listener of the feed node was shown last of each topic.
type screen struct {
	t    *testing.T
	conn *websocket.Conn
	last map[string]gen.LiveFrame
}

func (v *victim) screen(t *testing.T, meet, topics string) *screen {
	t.Helper()
	url := "ws" + strings.TrimPrefix(v.base, "http") + "/api/v1/meets/" + meet + "/live?topics=" + topics
	for began := time.Now(); ; time.Sleep(100 * time.Millisecond) {
		conn, res, err := websocket.DefaultDialer.Dial(url, nil)
		if err == nil {
			t.Cleanup(func() { conn.Close() })
			return &screen{t, conn, map[string]gen.LiveFrame{}}
		}
		if time.Since(began) > 20*time.Second {
			t.Fatalf("%s: %v %+v", url, err, res)
		}
	}
}

// until reads frames until those that were read fit, and returns how long that took.
func (s *screen) until(what string, fits func() bool) time.Duration {
	s.t.Helper()
	began := time.Now()
	for !fits() {
		if err := s.conn.SetReadDeadline(began.Add(20 * time.Second)); err != nil {
			s.t.Fatal(err)
		}
		var f gen.LiveFrame
		if err := s.conn.ReadJSON(&f); err != nil {
			s.t.Fatalf("%s: %v", what, err)
		}
		s.last[f.Topic] = f
	}
	return time.Since(began)
}

// shows says whether a topic is shown with what a page of a server has at this moment, but
// for the position: what did not change is not sent again.
func (s *screen) shows(topic string, page []byte) bool {
	f, there := s.last[topic]
	if !there {
		return false
	}
	var want, got map[string]any
	text, err := json.Marshal(f.Data)
	if err == nil {
		err = json.Unmarshal(text, &got)
	}
	if err != nil || json.Unmarshal(page, &want) != nil {
		s.t.Fatalf("%s: %v", topic, err)
	}
	for _, position := range []string{"seq", "head"} {
		delete(want, position)
		delete(got, position)
	}
	return reflect.DeepEqual(want, got)
}

// TestFeedNode: what the servers of a database show is shown by a node that has none of it,
// through kills of either, and while the broker is away nothing is shown as if it were live.
func TestFeedNode(t *testing.T) {
	port := freePort(t)
	broker := brokertest.Begin(t, port)
	address := fmt.Sprintf("nats://127.0.0.1:%d", port)
	a := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", freePort(t))}
	a.args = []string{
		"serve", "--listen", strings.TrimPrefix(a.base, "http://"), "--data", t.TempDir(), "--database", pgtest.Database(t), "--feed", address,
	}
	a.secret = a.start("--new-sign-in")
	t.Cleanup(a.kill)
	b := a.beside(t)
	node := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", freePort(t))}
	node.args = []string{"serve", "--listen", strings.TrimPrefix(node.base, "http://"), "--feed", address}
	node.start()
	t.Cleanup(node.kill)

	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	h, rng := newHistory(t, a.secret, a.base, b.base), rand.New(rand.NewPCG(17, 3))
	h.give(ctx, rng, "POST", "spring", "-", planned("spring"))
	h.give(ctx, rng, "PUT", "spring", "/divisions/open", openDivision())
	enter := func(n int) {
		id := fmt.Sprintf("e-%d", n)
		h.give(ctx, rng, "POST", "spring", "/entries", gen.TakeEntry{
			Id: &id, Division: "open", StartNumber: n,
			Person: &gen.PersonBody{Name: fmt.Sprintf("Child %d Quay", n), DisplayName: fmt.Sprintf("Nick %d", n), OnScreen: true, InResults: true},
		})
	}
	enter(1)
	topics := map[string]string{"meet": "", "board": "/board", "standings/open": "/divisions/open/standings", "car/e-1": "/entries/e-1/day"}
	agree := func(s *screen, when string) {
		t.Helper()
		for topic, path := range topics {
			page := h.page(ctx, b.base, "/api/v1/meets/spring"+path)
			took := s.until(when+": "+topic+" as "+string(page), func() bool { return s.shows(topic, page) })
			if took > 10*time.Second {
				t.Errorf("%s: %s came after %v", when, topic, took)
			}
		}
	}
	s := node.screen(t, "spring", "meet,board,standings/open,car/e-1,bench/b1")
	agree(s, "at the beginning")
	enter(2)
	h.give(ctx, rng, "POST", "spring", "/entries/e-1/check-in", gen.CheckIn{There: true})
	agree(s, "after two orders")
	a.kill()
	h.bases = []string{b.base}
	enter(3)
	agree(s, "after one server was killed")
	a.start()
	h.bases = []string{a.base, b.base}
	h.give(ctx, rng, "POST", "spring", "/pause", map[string]any{"reason": map[string]string{"code": "lunch"}})
	agree(s, "when it is back")

	for path, code := range map[string]string{
		"/api/v1/meets":                          "feed-only",
		"/":                                      "feed-only",
		"/api/v1/meets/autumn/live?topics=board": "no-meet",
		"/api/v1/meets/spring/live?topics=moon":  "bad-topic",
		"/c/pier/api/v1/meets/spring/live?topics=board": "no-club",
	} {
		res, err := http.Get(node.base + path)
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(res.Body)
		res.Body.Close()
		if !strings.Contains(string(text), `"code":"`+code+`"`) {
			t.Errorf("%s: %d %s", path, res.StatusCode, text)
		}
	}
	if res, err := http.Get(node.base + "/readyz"); err != nil || res.StatusCode != http.StatusOK {
		t.Errorf("it is not ready: %v %v", res, err)
	}

	broker.Shutdown()
	broker.WaitForShutdown()
	enter(4) // the servers go on
	for began := time.Now(); ; {
		if err := s.conn.SetReadDeadline(began.Add(40 * time.Second)); err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.conn.ReadMessage(); err == nil {
			continue
		} else if !websocket.IsCloseError(err, websocket.CloseGoingAway) {
			t.Errorf("a screen that hears nothing new is left with %v after %v", err, time.Since(began))
		}
		break
	}
	res, err := http.Get(node.base + "/api/v1/meets/spring/live?topics=board")
	if err != nil || res.StatusCode != http.StatusServiceUnavailable {
		t.Errorf("without a broker somebody gets in: %v %v", res, err)
	}
	brokertest.Begin(t, port)
	s = node.screen(t, "spring", "meet,board,standings/open,car/e-1")
	agree(s, "when the broker is back")
	node.end()
}
