package main

import (
	"encoding/json"
	"fmt"
	"testing"

	"benchmeet/api/gen"
)

// BenchmarkRunPostedToScreen takes the time from the sending of a whole run to
// its frame on a listening WebSocket: HTTP, chunk and event on disk, measuring,
// standings, frame.
func BenchmarkRunPostedToScreen(b *testing.B) {
	w := newWired(b, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":94.25}`)
	f := w.listen("/api/v1/practice/live", "practice")
	n := 0
	for b.Loop() {
		n++
		run := fmt.Sprintf("run-%d", n)
		w.sendPractice("b1", run)
		f.until("practice", func(_ int64, data json.RawMessage) bool {
			var board gen.PracticeBoard
			return json.Unmarshal(data, &board) == nil && len(board.Runs) > 0 && board.Runs[0].Id == run
		})
	}
}

// sendPractice sends a practice run of ten seconds in one chunk.
func (w *wired) sendPractice(bench, run string) {
	w.t.Helper()
	stamps := make([]int64, 1400)
	for i := range stamps {
		stamps[i] = int64(1_000_000 + 7000*i)
	}
	body, err := json.Marshal(map[string]any{
		"boot": "00000000000000aa", "run": run, "number": 0, "stamps_us": stamps,
		"last": map[string]any{"chunks": 1, "stamps": len(stamps)},
	})
	if err != nil {
		w.t.Fatal(err)
	}
	w.do("POST", "/api/v1/benches/"+bench+"/chunks", string(body))
}
