package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os/exec"
	"strings"
	"testing"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/node"
)

// wifiBox is a counter box that hands in by itself, as deploy/counterbox/PORTING.md tells:
// the core on this computer, and what a port for a board with Wi-Fi adds to it.
type wifiBox struct {
	t                *testing.T
	base, bench, key string
	network          http.RoundTripper
	boot             string
	kept             [][]byte // chunks, the oldest first
	sent             int
}

// stamps are passes as the core gives them, with a clock of 1 MHz.
func (b *wifiBox) stamps(at []int64) (out []int64) {
	b.t.Helper()
	var script strings.Builder
	for _, us := range at {
		fmt.Fprintf(&script, "seen 0 %d\nclock %d\nstep\n", us, us+50)
	}
	fmt.Fprintf(&script, "clock %d\nstep\n", at[len(at)-1]+1_000_000)
	cmd := exec.Command("../../deploy/counterbox/build/host")
	cmd.Stdin = strings.NewReader(script.String())
	lines, err := cmd.Output()
	if err != nil {
		b.t.Fatal(err)
	}
	for line := range strings.Lines(string(lines)) {
		l, err := node.ParseLine(strings.TrimSuffix(line, "\n"))
		if err != nil {
			b.t.Fatal(err)
		}
		if l.Kind != node.Pass {
			continue
		}
		us := int64(l.Ticks)
		out = append(out, us)
		for _, step := range l.Steps {
			us += int64(step)
			out = append(out, us)
		}
	}
	return out
}

func (b *wifiBox) ask(method, path string, body []byte) (status int, answer []byte) {
	q, err := http.NewRequestWithContext(b.t.Context(), method, b.base+"/api/v1/benches/"+b.bench+path, bytes.NewReader(body))
	if err != nil {
		b.t.Fatal(err)
	}
	q.Header.Set("Authorization", "Bearer "+b.key)
	if body != nil {
		q.Header.Set("Content-Type", "application/json")
	}
	a, err := b.network.RoundTrip(q)
	if err != nil {
		return 0, nil
	}
	defer a.Body.Close()
	answer, err = io.ReadAll(a.Body)
	if err != nil {
		return 0, nil
	}
	return a.StatusCode, answer
}

// chunk keeps stamps as the next chunk of a run; totals are those of the last one.
func (b *wifiBox) chunk(run string, number int, stamps []int64, totals map[string]any) {
	c := map[string]any{"boot": b.boot, "run": run, "number": number, "stamps_us": stamps}
	if totals != nil {
		c["last"] = totals
	}
	body, err := json.Marshal(c)
	if err != nil {
		b.t.Fatal(err)
	}
	b.kept = append(b.kept, body)
}

// send sends what is kept, the oldest first, until the answer names it.
func (b *wifiBox) send(most int) {
	for tries := 0; len(b.kept) > 0 && tries < most; tries++ {
		b.sent++
		status, answer := b.ask("POST", "/chunks", b.kept[0])
		var receipt, chunk struct {
			Boot, Run string
			Number    int
		}
		if json.Unmarshal(b.kept[0], &chunk) == nil && status == http.StatusOK && json.Unmarshal(answer, &receipt) == nil && receipt == chunk {
			b.kept = b.kept[1:]
		}
	}
}

// badWiFi does to each request in turn what networks do.
type badWiFi struct{ turn int }

func (n *badWiFi) RoundTrip(q *http.Request) (*http.Response, error) {
	n.turn++
	says := func(status int, text string) (*http.Response, error) {
		return &http.Response{StatusCode: status, Header: http.Header{}, Body: io.NopCloser(strings.NewReader(text)), Request: q}, nil
	}
	switch n.turn % 6 {
	case 1:
		return nil, fmt.Errorf("no network")
	case 2:
		return says(http.StatusOK, "<html>Sign in to the guest network")
	case 3:
		return says(http.StatusBadGateway, "")
	case 4:
		a, err := http.DefaultTransport.RoundTrip(q) // it arrives, and the answer is lost
		if err == nil {
			_ = a.Body.Close()
		}
		return nil, fmt.Errorf("the answer was lost")
	case 5:
		return says(http.StatusOK, `{"boot":"ffffffffffffffff","run":"r","number":0}`)
	}
	return http.DefaultTransport.RoundTrip(q)
}

// TestWifiBox: over a bad network a box that does what the page for its port says hands in
// each run once, whole.
func TestWifiBox(t *testing.T) {
	if out, err := exec.Command("make", "-s", "-C", "../../deploy/counterbox", "build/host").CombinedOutput(); err != nil {
		t.Fatalf("the core is not built: %v\n%s", err, out)
	}
	w := newWired(t, "")
	w.do("PUT", "/api/v1/benches/b1", `{"number":1,"circumference_mm":100}`)
	b := &wifiBox{
		t: t, base: w.server.url(), bench: "b1", key: w.tokens[auth.Box], network: &badWiFi{}, boot: "00000000000000c1",
	}
	const raceS = 4
	for made := range 3 {
		w.do("POST", "/api/v1/benches/b1/practice", fmt.Sprintf(`{"race_s":%d}`, raceS))
		var order gen.BenchOrder
		for n := 0; order.Run == nil && n < 20; n++ {
			var said gen.BenchOrder
			status, answer := b.ask("GET", "/order", nil)
			if status == http.StatusOK && json.Unmarshal(answer, &said) == nil && said.Bench == b.bench {
				order = said
			}
		}
		if order.Run == nil || order.RaceS == nil {
			t.Fatal("the box is told of no run")
		}
		// 6000 turns a minute from the order on; the clock goes on from run to run.
		start := int64(10_000_000 * (made + 1))
		var at []int64
		for us := start; us <= start+raceS*1_000_000+300_000; us += 10_000 {
			at = append(at, us)
		}
		stamps := b.stamps(at)
		if len(stamps) != len(at) {
			t.Fatalf("%d passes came out of the core, %d went in", len(stamps), len(at))
		}
		number := 0
		for ; len(stamps) > 50; number++ {
			b.chunk(*order.Run, number, stamps[:50], nil)
			stamps = stamps[50:]
			b.send(2) // and goes on, whatever became of it
		}
		b.chunk(*order.Run, number, stamps, map[string]any{
			"chunks": number + 1, "stamps": len(at), "start_source": "arrival", "start_us": start,
			"start_delay_us": 500_000, "duration_us": raceS * 1_000_000,
		})
		b.send(1000)
		if len(b.kept) > 0 {
			t.Fatalf("%d chunks are left", len(b.kept))
		}
		b.send(1) // nothing more
		var board gen.PracticeBoard
		must(t, json.Unmarshal(w.do("GET", "/api/v1/practice", "").body, &board))
		if len(board.Runs) != made+1 {
			t.Fatalf("%d runs stand on the board, %d were made", len(board.Runs), made+1)
		}
		if turns := board.Runs[0].Figures.Turns; turns < 399 || turns > 401 {
			t.Errorf("%g turns were measured, 400 were made: %+v", turns, board.Runs[0].Figures.Flags)
		}
	}
	if b.sent < 3*9*5 {
		t.Errorf("only %d sendings: the network was not bad", b.sent)
	}
}
