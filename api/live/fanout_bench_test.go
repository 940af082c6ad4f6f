package live

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/tools/crowd"
)

// How BenchmarkFanOut measures.
const (
	crowdSize   = 5000
	frameSize   = 4096
	fanOutTurns = 5  // of all servers, one after the other
	fanOutEach  = 20 // frames to all listeners in a turn
)

// asFeed names the variable that makes this test program a feed of one topic.
const asFeed = "BENCHMEET_TEST_FEED"

func TestMain(m *testing.M) {
	if os.Getenv(asFeed) != "" {
		fmt.Fprintln(os.Stderr, serveReady())
		os.Exit(1)
	}
	os.Exit(m.Run())
}

// BenchmarkFanOut is how fast 5,000 listeners get a frame of 4 kB that is ready, beside
// a bare broadcast server (prepared message, two goroutines a connection) and beside
// plain writes of one shared frame that wait for nobody: tools/floors. The servers have
// one core, this process and its listeners the other. Every frame has arrived at all
// listeners before the next is sent; the servers take turns, and x-gorilla and x-plain
// are the median, least and most of the turns' ratios of speed. x-gorilla-work is the same
// of the processor's time for a delivery, which others on the machine disturb less.
//
// It measures so much whatever -benchtime says.
func BenchmarkFanOut(b *testing.B) {
	onCores(b)
	floors := filepath.Join(b.TempDir(), "floors")
	if out, err := exec.Command("go", "build", "-o", floors, "benchmeet/tools/floors").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	self, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	feed := begin(b, "feed", exec.Command("taskset", "-c", "0", self))
	gorilla := begin(b, "gorilla", exec.Command("taskset", "-c", "0", floors, "-frame", fmt.Sprint(frameSize), "gorilla"))
	plain := begin(b, "plain", exec.Command("taskset", "-c", "0", floors, "-frame", fmt.Sprint(frameSize), "plain"))
	var toGorilla, toPlain, workToGorilla []float64
	for turn := range fanOutTurns + 1 {
		speeds, works := map[*broadcast]float64{}, map[*broadcast]float64{}
		for _, s := range []*broadcast{feed, gorilla, plain} {
			before := s.worked(b)
			speeds[s] = s.frames(b, fanOutEach)
			works[s] = (s.worked(b) - before) / (fanOutEach * crowdSize) * 1e6
			b.Logf("turn %d: %s %.0f deliveries/s, %.1f us of the processor each", turn, s.name, speeds[s], works[s])
		}
		if turn > 0 { // the first warms up
			toGorilla = append(toGorilla, speeds[feed]/speeds[gorilla])
			toPlain = append(toPlain, speeds[feed]/speeds[plain])
			workToGorilla = append(workToGorilla, works[feed]/works[gorilla])
		}
	}
	b.ReportMetric(0, "ns/op")
	spread(b, "x-gorilla", toGorilla)
	spread(b, "x-plain", toPlain)
	spread(b, "x-gorilla-work", workToGorilla)
	b.ReportMetric(feed.kilobytes(b), "KiB/listener")
	b.ReportMetric(gorilla.kilobytes(b), "KiB/listener-gorilla")
}

// spread reports the median, the least and the most of several turns.
func spread(b *testing.B, name string, all []float64) {
	slices.Sort(all)
	b.ReportMetric(all[len(all)/2], name)
	b.ReportMetric(all[0], name+"-least")
	b.ReportMetric(all[len(all)-1], name+"-most")
}

// onCores keeps this process on the second core until the end.
func onCores(b *testing.B) {
	set := func(cores string) error {
		return exec.Command("taskset", "-a", "-c", "-p", cores, fmt.Sprint(os.Getpid())).Run()
	}
	if err := set("1"); err != nil {
		b.Skipf("servers and listeners need a core each, and taskset: %v", err)
	}
	b.Cleanup(func() { _ = set("0-1") })
}

// broadcast is a server in a process of its own with its listeners.
type broadcast struct {
	name string
	url  string
	cmd  *exec.Cmd
	bare float64 // KiB of resident memory before anybody listened
	all  *crowd.Crowd
	sent int
}

func begin(b *testing.B, name string, cmd *exec.Cmd) *broadcast {
	s := &broadcast{name: name, cmd: cmd}
	cmd.Env = append(os.Environ(), asFeed+"=1")
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _, _ = cmd.Process.Kill(), cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		b.Fatalf("%s: %v", name, err)
	}
	address, err := netip.ParseAddrPort(strings.TrimSpace(line))
	if err != nil {
		b.Fatal(err)
	}
	s.url = "http://" + address.String()
	s.bare = s.resident(b)
	if s.all, err = crowd.Open(address, "/live?topics=board", crowdSize); err != nil {
		b.Fatalf("%s: %v", name, err)
	}
	b.Cleanup(s.all.Close)
	if err := s.all.Drain(300 * time.Millisecond); err != nil {
		b.Fatal(err)
	}
	_, s.sent = s.all.Frames() // the welcome
	return s
}

// frames sends so many to all and says how many a second arrived.
func (s *broadcast) frames(b *testing.B, frames int) float64 {
	if err := s.all.Drain(50 * time.Millisecond); err != nil {
		b.Fatal(err)
	}
	began := time.Now()
	for range frames {
		res, err := http.Post(s.url+"/go", "text/plain", http.NoBody)
		if err != nil {
			b.Fatal(err)
		}
		res.Body.Close()
		s.sent++
		if err := s.all.Await(s.sent, 20*time.Second, nil); err != nil {
			b.Fatalf("%s: %v", s.name, err)
		}
	}
	return float64(frames*crowdSize) / time.Since(began).Seconds()
}

// kilobytes is what a listener takes of resident memory.
func (s *broadcast) kilobytes(b *testing.B) float64 {
	return (s.resident(b) - s.bare) / crowdSize
}

// worked is the processor's time that the server took so far, in seconds.
func (s *broadcast) worked(b *testing.B) (seconds float64) {
	threads, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", s.cmd.Process.Pid))
	if err != nil || len(threads) == 0 {
		b.Fatalf("the system does not say how much %s worked: %v", s.name, err)
	}
	for _, thread := range threads {
		var ns float64
		text, err := os.ReadFile(thread)
		if _, scanned := fmt.Sscan(string(text), &ns); err != nil || scanned != nil {
			b.Fatal(errors.Join(err, scanned))
		}
		seconds += ns / 1e9
	}
	return seconds
}

func (s *broadcast) resident(b *testing.B) (kib float64) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		b.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		if _, err := fmt.Sscanf(line, "VmRSS: %f kB", &kib); err == nil {
			return kib
		}
	}
	b.Fatal("the system does not say how much memory is resident")
	return 0
}

// serveReady is a feed of one topic whose frames are ready: a POST has the next one shown.
func serveReady() error {
	s := newTold()
	texts := [2][]byte{}
	for n := range texts {
		texts[n] = fmt.Appendf(nil, `"%d%s"`, n, strings.Repeat("x", frameSize-60))
	}
	turn := 0
	s.shows = []string{"board"}
	s.show = func(topic string) (Content, bool) {
		text := texts[turn%2]
		return Content{text, int64(turn), func(to []byte) []byte { return append(to, text...) }}, topic == "board"
	}
	h := New(Options{Most: 1 << 20, MostEach: 1 << 20, Alone: true})
	h.Sources = func(store.Stream) Source { return s }
	mux := http.NewServeMux()
	mux.HandleFunc("GET /live", func(w http.ResponseWriter, r *http.Request) {
		there := Topics{Has: func(string, string) bool { return true }}
		if err := h.Serve(w, r, Who{}, store.MeetStream("harbour", "spring"), there); err != nil {
			panic(err)
		}
	})
	mux.HandleFunc("POST /go", func(http.ResponseWriter, *http.Request) {
		s.mu.Lock()
		turn++
		s.mu.Unlock()
		s.changes <- struct{}{}
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Println(listener.Addr())
	return errors.Join(http.Serve(listener, mux), io.EOF)
}
