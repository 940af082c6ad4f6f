package main

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
)

// feed is a listener of a test.
type feed struct {
	t    testing.TB
	conn *websocket.Conn
}

func (w *wired) listen(path, topics string) *feed {
	w.t.Helper()
	url := "ws" + strings.TrimPrefix(w.server.url(), "http") + path + "?topics=" + topics
	conn, res, err := websocket.DefaultDialer.Dial(url, nil)
	if err != nil {
		w.t.Fatalf("%s: %v", url, err)
	}
	res.Body.Close()
	w.t.Cleanup(func() { conn.Close() })
	return &feed{w.t, conn}
}

// until reads frames of a topic until one fits.
func (f *feed) until(topic string, fits func(seq int64, data json.RawMessage) bool) {
	f.t.Helper()
	if err := f.conn.SetReadDeadline(time.Now().Add(10 * time.Second)); err != nil {
		f.t.Fatal(err)
	}
	for {
		var got struct {
			Topic string          `json:"topic"`
			Seq   int64           `json:"seq"`
			Data  json.RawMessage `json:"data"`
		}
		if err := f.conn.ReadJSON(&got); err != nil {
			f.t.Fatalf("no frame of %s fitted: %v", topic, err)
		}
		if got.Topic == topic && fits(got.Seq, got.Data) {
			return
		}
	}
}

func TestFeedShowsWhatChanges(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		f := w.listen(meetPath+"/live", "board,bench/b1,standings/open,speed/b1")
		h := w.startFirstHeat()
		f.until("board", func(seq int64, data json.RawMessage) bool {
			var b gen.Board
			return json.Unmarshal(data, &b) == nil && seq > 0 && len(b.Racing) == 1 && b.Racing[0].Id == h.Id
		})
		for i, l := range h.Lanes {
			w.sendRun(*l.Bench, *l.Armed, "00000000000000aa", int64(7000+100*i))
		}
		f.until("speed/b1", func(_ int64, data json.RawMessage) bool {
			var s gen.LiveSpeed
			return json.Unmarshal(data, &s) == nil && s.Rpm > 8000 && s.Rpm < 9000 && s.DistanceM > 100
		})
		late := w.listen(meetPath+"/live", "board")
		late.until("board", func(_ int64, data json.RawMessage) bool { // who comes late gets all at once
			var b gen.Board
			return json.Unmarshal(data, &b) == nil && len(b.Posted) == 1
		})
	})
}

func TestErasedNameLeavesTheScreens(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		w := newWired(t, database)
		w.smallMeet()
		var entries gen.EntryList
		w.get(meetPath+"/entries", &entries)
		entrant := *entries.Entries[0].Entrant
		f := w.listen(meetPath+"/live", "board")
		f.until("board", func(_ int64, data json.RawMessage) bool { return strings.Contains(string(data), "Nick 1") })
		w.do(http.MethodDelete, "/api/v1/people/"+entrant, "")
		f.until("board", func(_ int64, data json.RawMessage) bool { return !strings.Contains(string(data), "Nick 1") })
		for _, path := range []string{"/board", "/entries", "/log", "/rulings"} {
			a := w.send(request{role: auth.Organiser, method: http.MethodGet, path: meetPath + path})
			if a.status != http.StatusOK || strings.Contains(string(a.body), "Nick 1") || strings.Contains(string(a.body), "Child 1 Quay") {
				t.Errorf("%s: %d, and shows the erased name: %s", path, a.status, a.body)
			}
		}
		again := w.send(
			request{
				role: auth.Organiser, method: http.MethodPut, path: "/api/v1/people/" + entrant,
				body: `{"name":"Child 1 Quay","display_name":"","on_screen":false,"in_results":false,"photo":false}`,
			},
		)
		if again.status != http.StatusConflict || again.problem.Code != "person-erased" {
			t.Errorf("written down again: %d %s", again.status, again.body)
		}
	})
}

func TestFeedRefusesWhatItCannotGive(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	for _, tt := range []struct {
		path   string
		status int
		code   string
	}{
		{meetPath + "/live?topics=weather", 400, "bad-topic"},
		{meetPath + "/live", 400, "bad-topic"},
		{"/api/v1/meets/autumn/live?topics=board", 404, "no-meet"},
		{"/api/v1/practice/live?topics=board", 400, "bad-topic"},
	} {
		a := w.send(request{method: http.MethodGet, path: tt.path})
		if a.status != tt.status || a.problem.Code != tt.code {
			t.Errorf("%s: %d %s, want %d %s", tt.path, a.status, a.problem.Code, tt.status, tt.code)
		}
	}
	elsewhere := http.Header{"Origin": {"http://elsewhere.example"}}
	url := "ws" + strings.TrimPrefix(w.server.url(), "http") + meetPath + "/live?topics=board"
	_, res, err := websocket.DefaultDialer.Dial(url, elsewhere)
	if err == nil || res == nil || res.StatusCode != http.StatusForbidden {
		t.Errorf("a page of another site listens: %v %v", res, err)
	}
}

// A screen that reads nothing holds up neither the venue nor the other screens.
func TestSlowScreenHoldsNobodyUp(t *testing.T) {
	w := newWired(t, "")
	w.smallMeet()
	w.listen(meetPath+"/live", "board,meet,bracket/open,standings/open") // never read
	quick := w.listen(meetPath+"/live", "meet")
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	defer cancel()
	for i := range 300 {
		if ctx.Err() != nil {
			t.Fatalf("the venue was held up at order %d", i)
		}
		w.do("POST", meetPath+"/pause", `{"reason":{"code":"lunch"}}`)
		w.do("POST", meetPath+"/resume", "")
	}
	// Changes that follow at once are shown together: one that leaves the meet otherwise
	// than it ever was is shown for sure.
	w.do("PUT", meetPath+"/plan", `{"name":"Harbour Hall autumn meet","date":"2027-04-17"}`)
	var m gen.Meet
	w.get(meetPath, &m)
	quick.until("meet", func(seq int64, _ json.RawMessage) bool { return seq == m.Seq })
}
