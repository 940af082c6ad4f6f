package node

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/trace"
)

// silent is a box that says nothing, at a line that can be closed.
type silent struct{ closed chan struct{} }

func (s silent) Read([]byte) (int, error) { <-s.closed; return 0, errors.New("closed") }
func (s silent) Close() error             { close(s.closed); return nil }

// deaf cannot be closed either: a terminal as standard input.
type deaf struct{}

func (deaf) Read([]byte) (int, error) { select {} }

func TestRunEndsAtOnceWithASilentBox(t *testing.T) {
	server := Server{Base: "http://127.0.0.1:1", Bench: "b1", HTTP: &http.Client{Timeout: time.Second}}
	line := silent{make(chan struct{})}
	for name, o := range map[string]Options{
		"a serial line":  {Open: func(context.Context) (io.ReadCloser, error) { return line, nil }},
		"standard input": {Source: deaf{}},
	} {
		o.Server, o.Spool = server, open(t, t.TempDir())
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() { ended <- New(o).Run(ctx) }()
		time.Sleep(50 * time.Millisecond)
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
		case <-time.After(5 * time.Second):
			t.Fatalf("%s: the node did not end", name)
		}
	}
	select {
	case <-line.closed:
	case <-time.After(5 * time.Second):
		t.Error("the line was not closed")
	}
}

// post answers like some server and says what a node makes of it.
func post(t *testing.T, answer http.HandlerFunc) (handed, error) {
	t.Helper()
	s := httptest.NewServer(answer)
	defer s.Close()
	body, err := wire.ShowChunk(trace.Chunk{Key: trace.Key{Boot: "0123456789abcdef", Run: "r1", Number: 3}, Stamps: []int64{5}})
	if err != nil {
		t.Fatal(err)
	}
	return Server{Base: s.URL, Bench: "b1", HTTP: s.Client()}.Post(t.Context(), body)
}

func TestOnlyTheServersOwnWordCounts(t *testing.T) {
	const receipt = `{"boot":"0123456789abcdef","run":"r1","number":3,"fresh":true,"recorded":false}`
	problem := func(status int, code string) string {
		return fmt.Sprintf(`{"type":"about:blank","title":"x","status":%d,"code":%q,"detail":"no"}`, status, code)
	}
	const asJSON, asProblem = "application/json; charset=UTF-8", "application/problem+json"
	for _, c := range []struct {
		name, kind, text string
		status           int
		hash             string // "right" is that of the body
		want             handed
	}{
		{"a receipt", asJSON, receipt, 200, "right", taken},
		{"a receipt of another chunk", asJSON, strings.Replace(receipt, `"number":3`, `"number":2`, 1), 200, "right", notTaken},
		{"a receipt of another run", asJSON, strings.Replace(receipt, "r1", "r2", 1), 200, "right", notTaken},
		{"a receipt of other bytes", asJSON, receipt, 200, strings.Repeat("0", 64), notTaken},
		{"a receipt without a hash", asJSON, receipt, 200, "", notTaken},
		{"a sign-in page", "text/html", "<html>Welcome! Accept our terms</html>", 200, "", notTaken},
		{"an empty 200", "", "", 200, "", notTaken},
		{"an echo", asJSON, `{"boot":"0123456789abcdef","run":"r1","number":3,"stamps_us":[5]}`, 200, "", notTaken},
		{"our refusal", asProblem, problem(400, "bad-chunk"), 400, "right", refused},
		{"our conflict", asProblem, problem(409, "chunk-conflict"), 409, "right", refused},
		{"our refusal of what was cut on its way", asProblem, problem(400, "bad-chunk"), 400, strings.Repeat("0", 64), notTaken},
		{"another of our problems", asProblem, problem(400, "bad-request"), 400, "right", notTaken},
		{"our token is not known", asProblem, problem(401, "bad-token"), 401, "right", notTaken},
		{"a proxy's 400", "text/html", "Bad Request", 400, "", notTaken},
		{"a proxy's 413", "text/html", "Too Large", 413, "", notTaken},
		{"a proxy that knows the standard", asProblem, problem(413, "body-too-large"), 413, "", notTaken},
		{"a server that fails", asProblem, problem(500, "internal"), 500, "right", notTaken},
	} {
		got, err := post(t, func(w http.ResponseWriter, r *http.Request) {
			body, _ := io.ReadAll(r.Body)
			sum := sha256.Sum256(body)
			switch c.hash {
			case "":
			case "right":
				w.Header().Set("Benchmeet-Received", hex.EncodeToString(sum[:]))
			default:
				w.Header().Set("Benchmeet-Received", c.hash)
			}
			w.Header().Set("Content-Type", c.kind)
			w.WriteHeader(c.status)
			_, _ = io.WriteString(w, c.text)
		})
		if got != c.want || (err == nil) != (c.want == taken) {
			t.Errorf("%s: %v, %v", c.name, got, err)
		}
	}
}

// TestAPortalTakesNothing: while a portal answers everything with its page, the
// spool keeps what it has, and the server gets it when it is there again. A chunk
// that the server refuses does not hold the others up, and is offered again by the
// next node.
func TestAPortalTakesNothing(t *testing.T) {
	var mu sync.Mutex
	portal, refusing := true, true
	got := map[int]int{}
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		defer mu.Unlock()
		body, _ := io.ReadAll(r.Body)
		if portal {
			w.Header().Set("Content-Type", "text/html")
			_, _ = io.WriteString(w, "<html>Accept our terms</html>")
			return
		}
		if r.Method == http.MethodGet {
			w.Header().Set("Content-Type", "application/json")
			_ = json.NewEncoder(w).Encode(gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindFree})
			return
		}
		c, err := wire.ReadChunk("b1", body)
		if err != nil {
			t.Error(err)
		}
		sum := sha256.Sum256(body)
		w.Header().Set("Benchmeet-Received", hex.EncodeToString(sum[:]))
		if c.Key.Number == 1 && refusing {
			w.Header().Set("Content-Type", "application/problem+json")
			w.WriteHeader(http.StatusConflict)
			_ = json.NewEncoder(w).Encode(gen.Problem{Status: http.StatusConflict, Code: "chunk-conflict"})
			return
		}
		got[c.Key.Number]++
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(gen.ChunkKept{Boot: c.Key.Boot, Run: c.Key.Run, Number: c.Key.Number, Fresh: true})
	}))
	defer s.Close()
	folder := t.TempDir()
	spool := open(t, folder)
	for number := range 3 {
		body, err := wire.ShowChunk(trace.Chunk{Key: trace.Key{Boot: "0123456789abcdef", Run: "r1", Number: number}})
		if err != nil {
			t.Fatal(err)
		}
		if err := spool.Put(body, nil); err != nil {
			t.Fatal(err)
		}
	}
	start := func(spool *Spool) (stop func()) {
		ctx, cancel := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		n := New(Options{Server: Server{Base: s.URL, Bench: "b1", HTTP: s.Client()}, Spool: spool, Clock: NewScaled(20)})
		go func() { ended <- n.Run(ctx) }()
		return func() {
			cancel()
			if err := <-ended; err != nil {
				t.Error(err)
			}
		}
	}
	left := func() int {
		files, err := filepath.Glob(filepath.Join(folder, "*"+chunkFile))
		if err != nil {
			t.Fatal(err)
		}
		return len(files)
	}
	stop := start(spool)
	time.Sleep(300 * time.Millisecond)
	if n := left(); n != 3 {
		t.Errorf("%d chunks are left behind the portal", n)
	}
	mu.Lock()
	portal = false
	mu.Unlock()
	wait(t, func() bool { return left() == 0 })
	stop()
	if got[0] != 1 || got[1] != 0 || got[2] != 1 {
		t.Errorf("the server has %v", got)
	}
	mu.Lock()
	refusing = false
	mu.Unlock()
	stop = start(open(t, folder))
	wait(t, func() bool {
		mu.Lock()
		defer mu.Unlock()
		return got[1] == 1
	})
	stop()
	if aside, _ := filepath.Glob(filepath.Join(folder, "*.refused")); len(aside) != 0 {
		t.Errorf("still aside: %v", aside)
	}
}

func wait(t *testing.T, until func() bool) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); !until(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("it did not come to that")
		}
	}
}

// TestTheEndOfStandardInputHasAWord: what was kept is sent, then the node ends.
func TestTheEndOfStandardInputHasAWord(t *testing.T) {
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		_ = json.NewEncoder(w).Encode(gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindFree})
	}))
	defer s.Close()
	var log bytes.Buffer
	n := New(Options{
		Server: Server{Base: s.URL, Bench: "b1", HTTP: s.Client()}, Spool: open(t, t.TempDir()),
		Source: strings.NewReader("1000\n2000\n3000"), Log: slog.New(slog.NewTextHandler(&log, nil)),
	})
	ended := make(chan error, 1)
	go func() { ended <- n.Run(t.Context()) }()
	select {
	case err := <-ended:
		if err != nil || !strings.Contains(log.String(), "have ended") {
			t.Errorf("ended with %v, said %s", err, log.String())
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the node did not end")
	}
}

// TestANodeThatIsStartedAgainGoesOn: the node is killed at each of its chunks in
// turn, and the next one ends the run under the name and boot id of the first,
// whether the box went on or had the same power cut.
func TestANodeThatIsStartedAgainGoesOn(t *testing.T) {
	origin := time.Date(2031, 5, 3, 9, 0, 0, 0, time.UTC)
	run, race, racing := "r1", 6.0, gen.BenchOrderStateRacing
	order := gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindHeat, Run: &run, RaceS: &race, State: &racing}
	for killAt := 1; killAt < 12; killAt++ {
		for _, power := range []bool{false, true} {
			folder := t.TempDir()
			spool := open(t, folder)
			r := newRuns(1, slog.New(slog.DiscardHandler), spool.Put)
			boot := ""
			clock := int64(1<<32 - 4_000_000) // wraps in the run
			if power {
				clock = 500_000_000 // for a clock that was about to wrap looks like one that begins
			}
			put := 0
			down := 0
			for ms := 0; ms < 12_000; ms += 10 {
				now := origin.Add(time.Duration(ms) * time.Millisecond)
				if down > 0 {
					if down--; down == 0 {
						spool = open(t, folder)
						r = newRuns(1, slog.New(slog.DiscardHandler), spool.Put)
						r.resume(spool.Open(), now)
						if power {
							clock = -int64(ms) * 1000
						}
					}
					continue
				}
				if ms >= 1000 {
					r.obey(order, 0, now)
				}
				if boot == "" && r.now != nil {
					boot = r.now.boot
				}
				r.box.line(fmt.Sprint((clock+int64(ms)*1000)&(1<<32-1)), now.Add(2*time.Millisecond))
				if ms%500 == 250 {
					if err := r.cut(now); err != nil {
						t.Fatal(err)
					}
					if r.now != nil {
						if put++; put == killAt {
							down = 80
						}
					}
				}
			}
			numbers, err := spool.Waiting()
			if err != nil {
				t.Fatal(err)
			}
			var chunks []trace.Chunk
			var stamps []int64
			for _, n := range numbers {
				text, err := os.ReadFile(spool.path(n, chunkFile))
				if err != nil {
					t.Fatal(err)
				}
				c, err := wire.ReadChunk("b1", text)
				if err != nil {
					t.Fatal(err)
				}
				if c.Key.Boot != boot || c.Key.Run != run || c.Key.Number != len(chunks) || (c.Last != nil) != (n == numbers[len(numbers)-1]) {
					t.Errorf("killed at %d: chunk %d is %d of run %s, boot %s, last %v", killAt, n, c.Key.Number, c.Key.Run, c.Key.Boot, c.Last)
				}
				chunks = append(chunks, c)
				stamps = append(stamps, c.Stamps...)
			}
			last := chunks[len(chunks)-1].Last
			if last == nil || last.Lost == 0 || last.Stamps != len(stamps) || last.Chunks != len(chunks) {
				t.Errorf("killed at %d: the totals are %+v of %d stamps", killAt, last, len(stamps))
				continue
			}
			if (len(last.RestartsUS) == 1) != power {
				t.Errorf("killed at %d, power gone %v: restarts %v", killAt, power, last.RestartsUS)
			}
			// Every 10 ms there was a pass; the whole race is there but for the time that the
			// node was down and one chunk before.
			if way := stamps[len(stamps)-1] - stamps[0]; way < 6_000_000 || way > 8_100_000 {
				t.Errorf("killed at %d: from first to last stamp are %d µs", killAt, way)
			}
			if n := len(stamps); n < 470 || n > 720 {
				t.Errorf("killed at %d: %d stamps", killAt, n)
			}
		}
	}
}
