//go:build linux

package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"go.bug.st/serial"

	"benchmeet/api/gen"
	"benchmeet/api/node"
	"benchmeet/api/rehearsal"
)

// The emulated board and the roller before its sensor.
const (
	boardHz     = 16_000_000
	boardRPM    = 6000
	boardRaceS  = 4
	boardFaults = 3 // in each run
)

// emulatedBox is the counter box's own program on an emulated board, with a cable to the
// node at which lines can be spoiled and that can be pulled.
type emulatedBox struct {
	t       *testing.T
	orders  io.WriteCloser
	cable   cable
	mu      sync.Mutex // of all below
	spoil   func(line string) string
	passed  []carried // in the run under way
	boot    string    // of its last start
	merged  bool      // the last line went on without its end
	out     bool
	stopped chan error
}

// carried is a line that came to the cable: its passes, which went on whole or not, and
// whether the box had started again.
type carried struct {
	at         time.Time
	seen, lost int
	restarted  bool
}

var bootIn = regexp.MustCompile(`box v1 boot=(\d+) `)

func powerOn(t *testing.T) *emulatedBox {
	t.Helper()
	const folder = "../../deploy/counterbox/"
	cmd := exec.Command(folder+"build/board", "--pty", folder+"build/counterbox.elf")
	orders, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	said, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	b := &emulatedBox{t: t, orders: orders, stopped: make(chan error, 1)}
	scan := bufio.NewScanner(said)
	pty := ""
	for pty == "" && scan.Scan() {
		pty, _ = strings.CutPrefix(scan.Text(), "pty ")
		if !strings.HasPrefix(scan.Text(), "pty ") {
			pty = ""
		}
	}
	go func() { _, _ = io.Copy(io.Discard, said) }()
	b.cable.name = filepath.Join(t.TempDir(), "box")
	if err := b.cable.plugIn(); err != nil {
		t.Fatal(err)
	}
	line, err := serial.Open(pty, &serial.Mode{BaudRate: 115200})
	if err != nil {
		t.Fatal(err)
	}
	go b.carry(line)
	t.Cleanup(func() {
		_ = orders.Close() // the end of its script is its end
		if err := cmd.Wait(); err != nil {
			t.Errorf("the emulated board: %v", err)
		}
		_ = line.Close()
		b.mu.Lock()
		defer b.mu.Unlock()
		b.cable.pull()
	})
	return b
}

// carry takes what the board writes to the node's end of the cable, line by line.
func (b *emulatedBox) carry(from io.Reader) {
	lines := bufio.NewReader(from)
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			return
		}
		l, bad := node.ParseLine(strings.TrimSuffix(line, "\n"))
		passes := 0
		if bad == nil && l.Kind == node.Pass {
			passes = 1 + len(l.Steps)
		}
		b.mu.Lock()
		whole := line
		if b.spoil != nil && passes > 0 {
			line, b.spoil = b.spoil(line), nil
		}
		one := carried{at: time.Now()}
		if b.out || b.merged || line != whole {
			one.lost = passes
		} else {
			one.seen = passes
		}
		if boot := bootIn.FindStringSubmatch(whole); boot != nil { // also behind a line that the start cut
			one.restarted = b.boot != "" && b.boot != boot[1]
			b.boot = boot[1]
		}
		b.passed = append(b.passed, one)
		if line != "" { // one that is cut away whole takes nothing with it
			b.merged = !b.out && !strings.HasSuffix(line, "\n")
		}
		if !b.out {
			_, _ = io.WriteString(b.cable.master, line)
		}
		b.mu.Unlock()
	}
}

func (b *emulatedBox) order(format string, args ...any) {
	if _, err := fmt.Fprintf(b.orders, "0 "+format+"\n", args...); err != nil {
		b.t.Error(err)
	}
}

// fault does one thing of those that happen in a hall.
func (b *emulatedBox) fault(r *rand.Rand) (name string) {
	name = []string{"garbled byte", "cut line", "cable", "watchdog", "low supply", "power"}[r.IntN(6)]
	switch name {
	case "garbled byte":
		b.mu.Lock()
		b.spoil = func(line string) string {
			bytes := []byte(line)
			bytes[r.IntN(len(bytes))] ^= byte(1 + r.IntN(255))
			return string(bytes)
		}
		b.mu.Unlock()
	case "cut line":
		b.mu.Lock()
		b.spoil = func(line string) string { return line[:r.IntN(len(line))] }
		b.mu.Unlock()
	case "cable":
		b.mu.Lock()
		b.cable.pull()
		b.out = true
		b.mu.Unlock()
		time.Sleep(time.Duration(50+r.IntN(350)) * time.Millisecond)
		b.mu.Lock()
		if err := b.cable.plugIn(); err != nil {
			b.t.Error(err)
		}
		b.out = b.cable.master == nil
		b.mu.Unlock()
	case "watchdog":
		b.order("hang")
	case "low supply":
		b.order("low")
	case "power":
		b.order("power")
	}
	return name
}

// asked counts how often the node has got an answer to its question what to do.
type asked struct{ n atomic.Int64 }

func (a *asked) RoundTrip(q *http.Request) (*http.Response, error) {
	answer, err := http.DefaultTransport.RoundTrip(q)
	if err == nil && q.Method == http.MethodGet {
		a.n.Add(1)
	}
	return answer, err
}

// TestProveBoxFaults: what may happen between a board and the server, some of it in every
// run, and nobody touches the node: each run that there was stands on the board once, and
// says what happened.
func TestProveBoxFaults(t *testing.T) {
	runs, boards := 14, 3
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		runs = 334
	}
	if out, err := exec.Command("make", "-s", "-C", "../../deploy/counterbox", "all").CombinedOutput(); err != nil {
		t.Fatalf("the counter box is not built (make setup installs the compiler and the emulator): %v\n%s", err, out)
	}
	v := newVictim(t, "")
	desk := &rehearsal.Client{Base: v.base, Token: v.secret, HTTP: &http.Client{Timeout: 20 * time.Second}}
	began := time.Now()
	var all sync.WaitGroup
	for bench := 1; bench <= boards; bench++ {
		id := fmt.Sprintf("b%d", bench)
		order(t, desk, http.MethodPut, "/api/v1/benches/"+id, gen.BenchBody{Number: bench, CircumferenceMm: 94.25})
		box := powerOn(t)
		spool, err := node.OpenSpool(t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		var said lockedBuffer
		questions := &asked{}
		ctx, stop := context.WithCancel(t.Context())
		agent := node.New(node.Options{
			Server: node.Server{Base: v.base, Bench: id, Token: v.secret, HTTP: &http.Client{Timeout: 20 * time.Second, Transport: questions}},
			Spool:  spool, PollEvery: 100 * time.Millisecond,
			Open: func(context.Context) (io.ReadCloser, error) {
				return serial.Open(box.cable.name, &serial.Mode{BaudRate: 115200})
			},
			Log: slog.New(slog.NewTextHandler(&said, nil)),
		})
		ended := make(chan error, 1)
		go func() { ended <- agent.Run(ctx) }()
		all.Go(func() {
			defer func() {
				stop()
				if err := <-ended; err != nil {
					t.Errorf("%s: the node ended: %v", id, err)
				}
			}()
			made := 0
			for n := bench - 1; n < runs && !t.Failed(); n += boards {
				if err := box.run(t, desk, id, questions, uint64(n)); err != nil {
					t.Errorf("%s, run %d: %v\n%s", id, n, err, said.String())
				}
				made++
			}
			// Nothing came late, of any run.
			if all, err := ofBench(t.Context(), desk, id, 500); !t.Failed() && (err != nil || len(all) != made) {
				t.Errorf("%s: of %d runs that there were %d stand on the board (%v)", id, made, len(all), err)
			}
		})
	}
	all.Wait()
	t.Logf("%d runs with %d faults in %.0f s", runs, runs*boardFaults, time.Since(began).Seconds())
}

// run plays one run with its faults, and judges what stands on the board.
func (b *emulatedBox) run(t *testing.T, desk *rehearsal.Client, bench string, questions *asked, seed uint64) error {
	r := rand.New(rand.NewPCG(16, seed))
	before, err := ofBench(t.Context(), desk, bench, newest)
	if err != nil {
		return err
	}
	order(t, desk, http.MethodPost, "/api/v1/benches/"+bench+"/practice", gen.ArmPractice{RaceS: boardRaceS})
	for from, until := questions.n.Load(), time.Now().Add(30*time.Second); questions.n.Load() < from+2; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(until) {
			return fmt.Errorf("the node asks no more")
		}
	}
	b.mu.Lock()
	b.passed = nil
	b.mu.Unlock()
	began := time.Now()
	b.order("roll 0 %d %d", boardHz*60/boardRPM, (boardRaceS+2)*boardRPM/60)
	var names []string
	for range boardFaults {
		time.Sleep(time.Duration(500+r.IntN(300)) * time.Millisecond)
		names = append(names, b.fault(r))
	}
	what := strings.Join(names, ", ")
	var mine []gen.PracticeRun // that were not there before
	look := func() error {
		now, err := ofBench(t.Context(), desk, bench, newest)
		mine = slices.DeleteFunc(now, func(run gen.PracticeRun) bool {
			return slices.ContainsFunc(before, func(old gen.PracticeRun) bool { return old.Id == run.Id })
		})
		return err
	}
	for until := time.Now().Add(60 * time.Second); len(mine) == 0; time.Sleep(100 * time.Millisecond) {
		if err = look(); err != nil {
			return err
		}
		if time.Now().After(until) {
			return fmt.Errorf("%s: no run stands on the board", what)
		}
	}
	b.order("roll 0 1000 0")
	// What came before a slow machine may have ended the run has to be told, and nothing else
	// than what came at all.
	const sure = (boardRaceS - 0.5) * float64(time.Second)
	var early, all carried
	b.mu.Lock()
	for _, one := range b.passed {
		for _, sum := range []*carried{&early, &all} {
			if sum == &all || one.at.Sub(began) < time.Duration(sure) {
				sum.seen, sum.lost, sum.restarted = sum.seen+one.seen, sum.lost+one.lost, sum.restarted || one.restarted
			}
		}
	}
	b.mu.Unlock()
	time.Sleep(300 * time.Millisecond) // a second one would come now
	if err = look(); err != nil {
		return err
	}
	if len(mine) != 1 {
		return fmt.Errorf("%s: %d runs came of one", what, len(mine))
	}
	figures := mine[0].Figures
	var flags []string
	for _, f := range figures.Flags {
		flags = append(flags, f.Code)
	}
	told := 0
	for _, f := range figures.Flags {
		if f.Code == "passes-lost" && f.Args != nil && len(*f.Args) > 0 {
			told = int((*f.Args)[0])
		}
	}
	says := fmt.Sprintf("%s: came %+v, of that early %+v, %d told, %.1f turns, flags %v", what, all, early, told, figures.Turns, flags)
	restarted := slices.Contains(flags, "restarted")
	if restarted && !all.restarted || !restarted && early.restarted {
		return fmt.Errorf("%s: restarted is %v", says, all.restarted)
	}
	// What was on its way when the cable came out is lost too; a start counts from 0 again.
	onTheWay := 20 * strings.Count(what, "cable")
	if !all.restarted && (told < early.lost || told > all.lost+onTheWay) {
		return fmt.Errorf("%s: what is lost is not told", says)
	}
	// The emulated board falls behind the clock on a busy machine, and the node ends the run by
	// the clock: then it is shorter, and never longer.
	const turns = boardRaceS * boardRPM / 60
	if figures.Turns > turns*1.03 || early.seen > turns/4 && figures.Turns < float64(early.seen)/3 {
		return fmt.Errorf("%s: at most %d turns there were", says, turns)
	}
	return nil
}

// newest is how many runs are looked at while one is made: all three boards together make
// fewer in that time.
const newest = 30

// ofBench are the practice runs of a bench among the newest of all.
func ofBench(ctx context.Context, desk *rehearsal.Client, bench string, limit int) (out []gen.PracticeRun, err error) {
	var board gen.PracticeBoard
	err = desk.Get(ctx, fmt.Sprintf("/api/v1/practice?limit=%d", limit), &board)
	for _, run := range board.Runs {
		if run.Bench == bench {
			out = append(out, run)
		}
	}
	return out, err
}
