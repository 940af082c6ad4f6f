package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/rehearsal"
	"benchmeet/api/store"
)

// inFull says whether the long simulations run in full. Their shares mostly wait,
// so they wait side by side.
func inFull(t *testing.T) bool {
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		return true
	}
	t.Parallel()
	return false
}

// mostMemory is what the server may have resident, whoever comes, in bytes.
const mostMemory = 300 << 20

// TestProveStrangers lets thousands of strangers, each with an address of its own,
// ask for topics that are not there, send half a body and listen, while phones
// behind one address come in and a screen watches the day: no change takes longer
// than a second, during and after, all phones get in, and memory stays bounded.
func TestProveStrangers(t *testing.T) {
	strangers, half, phones, least := 500, 300, 300, 3*time.Second
	if inFull(t) {
		strangers, half, least = 4000, 3000, 10*time.Second
	}
	v := newVictim(t, "")
	desk := &rehearsal.Client{Base: v.base, Token: v.secret, HTTP: &http.Client{Timeout: 20 * time.Second}}
	day := gen.PlanMeet{Id: "spring", Plan: gen.Plan{Name: "Harbour Hall spring meet", Date: "2027-04-17"}}
	if _, err := desk.Order(t.Context(), http.MethodPost, "/api/v1/meets", orderID(1), day); err != nil {
		t.Fatal(err)
	}
	screen := newWatching(t, v.base, "/api/v1/meets/spring/live?topics=board,meet")
	stop := make(chan struct{})
	var changing sync.WaitGroup
	changes := 0
	changing.Go(func() {
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			case <-time.After(200 * time.Millisecond):
			}
			path, body := "/api/v1/meets/spring/pause", any(map[string]any{"reason": gen.Reason{Code: "lunch"}})
			if n%2 == 1 {
				path, body = "/api/v1/meets/spring/resume", nil
			}
			receipt, err := desk.Order(context.Background(), http.MethodPost, path, orderID(2+n), body)
			if err != nil {
				t.Error(err)
				return
			}
			screen.changed(receipt.Seq)
			changes++
		}
	})

	began := time.Now()
	v.crowd(strangers, func(i int, from net.IP) {
		topics := make([]string, 64)
		for k := range topics {
			topics[k] = fmt.Sprintf("standings/n%d-%d", i, k)
		}
		switch i % 5 {
		case 0, 3:
			topics = append([]string{"board"}, topics[:4]...) // it gets in and stays
		case 1:
			topics = append([]string{"board"}, topics[:63]...)
		case 2:
			topics[0] = strings.Repeat("x", 12_000)
		}
		v.listen(from, strings.Join(topics, ","))
	})
	v.crowd(half, func(i int, from net.IP) {
		body := "POST /api/v1/session HTTP/1.1\r\nHost: hall\r\nContent-Type: application/json\r\nContent-Length: 500000\r\n\r\n"
		if i%2 == 0 {
			body = strings.Replace(body, "500000", "4000", 1)
		}
		v.send(from, body+strings.Repeat(" ", 3000))
	})
	var in atomic.Int64
	v.crowd(phones, func(int, net.IP) {
		if v.listen(net.IPv4(127, 9, 9, 9), "board") {
			in.Add(1)
		}
	})
	if in.Load() != int64(phones) {
		t.Errorf("%d of %d phones behind one address got in", in.Load(), phones)
	}
	if open := v.waitForHalf(); open > requestWithin+2*time.Second { // this machine is busy too
		t.Errorf("a half-sent body was open for %v", open)
	}
	v.leave()
	time.Sleep(least)
	close(stop)
	changing.Wait()
	worst, seen := screen.worst(changes)
	peak := v.memory("VmHWM")
	t.Logf("%d strangers, %d half-sent bodies, %d phones in %.1f s: %d changes, all %d seen, the slowest after %v; peak memory %d MB",
		strangers, half, phones, time.Since(began).Seconds(), changes, seen, worst, peak>>20)
	if seen != changes || worst > time.Second {
		t.Errorf("the screen saw %d of %d changes, the slowest after %v", seen, changes, worst)
	}
	if peak > mostMemory {
		t.Errorf("the server had %d MB resident", peak>>20)
	}
	ending := time.Now()
	v.end()
	if took := time.Since(ending); took > 5*time.Second {
		t.Errorf("the server ended after %v", took)
	}
}

// orderID is the id of the nth order of a test.
func orderID(n int) string { return fmt.Sprintf("01890000-0000-7000-8000-%012d", n) }

// watching is a screen that notes when each position reached it.
type watching struct {
	mu      sync.Mutex
	ordered map[int64]time.Time
	reached map[int64]time.Time
}

func newWatching(t *testing.T, base, path string) *watching {
	w := &watching{ordered: map[int64]time.Time{}, reached: map[int64]time.Time{}}
	conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(base, "http")+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	t.Cleanup(func() { conn.Close() })
	go func() {
		for {
			var f struct{ Seq int64 }
			if conn.ReadJSON(&f) != nil {
				return
			}
			w.mu.Lock()
			if _, there := w.reached[f.Seq]; !there {
				w.reached[f.Seq] = time.Now()
			}
			w.mu.Unlock()
		}
	}()
	return w
}

func (w *watching) changed(seq int64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.ordered[seq] = time.Now()
}

// worst is the longest that a change took to the screen, and how many arrived.
func (w *watching) worst(changes int) (worst time.Duration, seen int) {
	for range 100 { // the last one may be under way
		w.mu.Lock()
		seen = 0
		for seq, at := range w.ordered {
			if reached, there := w.reached[seq]; there {
				seen++
				worst = max(worst, reached.Sub(at))
			}
		}
		w.mu.Unlock()
		if seen == changes {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	return worst, seen
}

// crowd runs something for many, each with an address of its own, 64 at a time.
func (v *victim) crowd(n int, each func(i int, from net.IP)) {
	var all sync.WaitGroup
	turn := make(chan struct{}, 64)
	for i := range n {
		turn <- struct{}{}
		all.Go(func() {
			defer func() { <-turn }()
			each(i, net.IPv4(127, byte(1+i/60_000), byte(i/250), byte(1+i%250)))
		})
	}
	all.Wait()
}

// listen opens a listener from an address; it stays where it was let in.
func (v *victim) listen(from net.IP, topics string) bool {
	d := websocket.Dialer{HandshakeTimeout: 20 * time.Second, NetDialContext: (&net.Dialer{LocalAddr: &net.TCPAddr{IP: from}}).DialContext}
	conn, res, err := d.Dial("ws"+strings.TrimPrefix(v.base, "http")+"/api/v1/meets/spring/live?topics="+topics, nil)
	if err != nil {
		if res == nil {
			v.t.Errorf("no answer to a listener: %v", err)
		}
		return false
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	v.listeners = append(v.listeners, conn.NetConn())
	return true
}

// send opens a connection from an address, sends something and keeps it open.
func (v *victim) send(from net.IP, text string) {
	d := net.Dialer{LocalAddr: &net.TCPAddr{IP: from}, Timeout: 20 * time.Second}
	conn, err := d.Dial("tcp", strings.TrimPrefix(v.base, "http://"))
	if err != nil {
		v.t.Error(err)
		return
	}
	if _, err := conn.Write([]byte(text)); err != nil {
		v.t.Error(err)
	}
	sent := time.Now()
	v.mu.Lock()
	v.half = append(v.half, conn)
	v.mu.Unlock()
	v.ends.Go(func() {
		_ = conn.SetReadDeadline(sent.Add(time.Minute))
		_, _ = io.Copy(io.Discard, conn) // an answer, and then the end
		v.mu.Lock()
		defer v.mu.Unlock()
		v.longest = max(v.longest, time.Since(sent))
	})
}

// waitForHalf waits until the server has ended the half-sent requests and returns
// how long the longest was open.
func (v *victim) waitForHalf() time.Duration {
	v.ends.Wait()
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.longest
}

// leave closes what the strangers opened, all at once.
func (v *victim) leave() {
	for _, conn := range append(v.half, v.listeners...) {
		conn.Close()
	}
}

// memory is a figure of the server's memory, in bytes.
func (v *victim) memory(name string) int64 {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", v.cmd.Process.Pid))
	if err != nil {
		v.t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if rest, is := strings.CutPrefix(line, name+":"); is {
			kb, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
			if err != nil {
				v.t.Fatal(err)
			}
			return kb << 10
		}
	}
	v.t.Fatalf("%s is not in the list", name)
	return 0
}

// processor is how much processor time the server has used.
func (v *victim) processor() time.Duration {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", v.cmd.Process.Pid))
	if err != nil {
		v.t.Fatal(err)
	}
	fields := strings.Fields(string(text[bytes.LastIndexByte(text, ')')+2:]))
	user, _ := strconv.ParseInt(fields[11], 10, 64)
	system, _ := strconv.ParseInt(fields[12], 10, 64)
	return time.Duration(user+system) * time.Second / 100 // in hundredths on Linux
}

// TestProveSeason plays a season of race days and then lets ten boxes ask for
// their orders as often as they do, while nobody races: the median answer comes
// within 20 ms, and the server works little more than for what stands in no log.
func TestProveSeason(t *testing.T) {
	days, entries, asking := 3, 24, 4*time.Second
	if inFull(t) {
		days, entries, asking = 40, 40, 30*time.Second
	}
	data := t.TempDir()
	s, err := startServer(t.Context(), serverOptions{
		Listen: "127.0.0.1:0", Data: data, Scale: 1000, Club: store.Club{ID: homeClub, Name: "Harbour Hall"},
	})
	if err != nil {
		t.Fatal(err)
	}
	secret, _, err := s.tokens.Make(t.Context(), auth.Wish{Club: homeClub, Role: auth.Organiser, Label: "test"})
	for n := 0; err == nil && n < days; n++ {
		plan := rehearsal.MakePlan(uint64(n+1), entries, 10)
		plan.Meet, plan.Compare = fmt.Sprintf("day-%02d", n+1), n == 0
		err = rehearsal.New(rehearsal.Options{Base: s.url(), Token: secret, Plan: plan}).Play(t.Context())
	}
	events := int64(0)
	if heads, listed := s.store.Streams(t.Context(), homeClub); listed == nil {
		for _, h := range heads {
			events += h.Head.Seq
		}
	}
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	port := freePort(t)
	v := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", port), secret: secret}
	v.args = []string{"serve", "--listen", fmt.Sprintf("127.0.0.1:%d", port), "--data", data}
	v.start()
	t.Cleanup(v.kill)
	ask := func(bench int) time.Duration {
		began := time.Now()
		r, _ := http.NewRequest(http.MethodGet, fmt.Sprintf("%s/api/v1/benches/b%d/order", v.base, bench), nil)
		r.Header.Set("Authorization", "Bearer "+secret)
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Error(err)
			return 0
		}
		defer res.Body.Close()
		var order gen.BenchOrder
		if err := json.NewDecoder(res.Body).Decode(&order); err != nil || res.StatusCode != http.StatusOK || order.Heat != nil {
			t.Errorf("bench %d: %d %+v %v", bench, res.StatusCode, order, err)
		}
		return time.Since(began)
	}
	first := ask(1)
	time.Sleep(2 * time.Second) // what a start has to look through
	var mu sync.Mutex
	var took []time.Duration
	orders := v.busy(asking, func(box int) {
		d := ask(box)
		mu.Lock()
		took = append(took, d)
		mu.Unlock()
	})
	// What asks for nothing of any log costs, as often, on this machine and beside what it does now.
	about := v.busy(asking, func(int) {
		r, _ := http.NewRequest(http.MethodGet, v.base+"/api/v1/about", nil)
		r.Header.Set("Authorization", "Bearer "+secret)
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Error(err)
			return
		}
		res.Body.Close()
	})
	slices.Sort(took)
	median := took[len(took)/2]
	t.Logf("%d race days, %d events: the first order after %v, then %d orders, median %v, slowest %v, %.1f %% of a core, "+
		"%.1f for as many of what stands in no log; %d MB resident",
		days, events, first, len(took), median, took[len(took)-1], 100*orders, 100*about, v.memory("VmRSS")>>20)
	if median > 20*time.Millisecond {
		t.Errorf("half of the orders took longer than %v", median)
	}
	if orders > 4*about+0.01 {
		t.Errorf("the server used %.1f %% of a core while nobody raced, and %.1f %% where no log was asked", 100*orders, 100*about)
	}
}

// busy has ten boxes ask as often as they do for so long, and says how much of a core the server used.
func (v *victim) busy(asking time.Duration, ask func(box int)) float64 {
	used, began := v.processor(), time.Now()
	var boxes sync.WaitGroup
	for box := 1; box <= 10; box++ {
		boxes.Go(func() {
			for time.Since(began) < asking {
				ask(box)
				time.Sleep(300 * time.Millisecond)
			}
		})
	}
	boxes.Wait()
	return float64(v.processor()-used) / float64(time.Since(began))
}

// TestProveExampleGoesOn ends the example server in mid-heat, by Ctrl-C and by
// kill -9 in turn, and starts it again as "make run" does: each time cars run on
// the benches within half a minute, in a meet that is not yet over.
func TestProveExampleGoesOn(t *testing.T) {
	times := 2
	if inFull(t) {
		times = 10
	}
	port := freePort(t)
	v := &victim{t: t, base: fmt.Sprintf("http://127.0.0.1:%d", port)}
	v.args = []string{"serve", "--example", "--listen", fmt.Sprintf("127.0.0.1:%d", port), "--data", t.TempDir()}
	t.Cleanup(v.kill)
	for n := range times + 1 {
		v.start("--new-sign-in")
		began := time.Now()
		meet, ran := v.inMotion(began.Add(30 * time.Second))
		t.Logf("start %d: %s in motion after %.1f s, %.0f m run", n+1, meet, time.Since(began).Seconds(), ran)
		if meet == "" {
			t.Fatalf("start %d: nothing moves", n+1)
		}
		signal := syscall.SIGINT
		if n%2 == 1 {
			signal = syscall.SIGKILL
		}
		v.mu.Lock()
		pid := v.cmd.Process.Pid
		v.mu.Unlock()
		if err := syscall.Kill(-pid, signal); err != nil {
			t.Fatal(err)
		}
		_ = v.cmd.Wait()
	}
}

// inMotion waits until a car of some meet has run further while its heat is shown
// as racing, and returns the meet and how far it is.
func (v *victim) inMotion(until time.Time) (meet string, metres float64) {
	for time.Now().Before(until) {
		var list gen.MeetList
		v.read("/api/v1/meets", &list)
		for _, m := range list.Meets {
			var board gen.Board
			if v.read("/api/v1/meets/"+m.Id+"/board", &board); len(board.Racing) == 0 {
				continue
			}
			conn, res, err := websocket.DefaultDialer.Dial("ws"+strings.TrimPrefix(v.base, "http")+"/api/v1/meets/"+m.Id+"/live?topics=speed", nil)
			if err != nil {
				v.t.Error(err)
				return "", 0
			}
			res.Body.Close()
			_ = conn.SetReadDeadline(time.Now().Add(2 * time.Second))
			ran := map[string]float64{}
			for {
				var f struct{ Data gen.LiveSpeed }
				if conn.ReadJSON(&f) != nil {
					break // nothing runs in this one
				}
				if before, there := ran[f.Data.Run]; there && f.Data.DistanceM > before {
					conn.Close()
					return m.Id, f.Data.DistanceM
				}
				ran[f.Data.Run] = f.Data.DistanceM
			}
			conn.Close()
		}
		time.Sleep(100 * time.Millisecond)
	}
	return "", 0
}

func (v *victim) read(path string, into any) {
	res, err := http.Get(v.base + path)
	if err != nil {
		v.t.Error(err)
		return
	}
	defer res.Body.Close()
	if err := json.NewDecoder(res.Body).Decode(into); err != nil {
		v.t.Error(err)
	}
}
