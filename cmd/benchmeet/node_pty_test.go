//go:build linux

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"go.bug.st/serial"
	"golang.org/x/sys/unix"

	"benchmeet/api/gen"
	"benchmeet/api/node"
	"benchmeet/api/node/nodetest"
	"benchmeet/api/rehearsal"
)

// ptyScale is how much faster than life the box and its node run: the lines come
// four times as close and as late as on a real wire, to the same kernel.
const ptyScale = 4

// cable is a pseudo-terminal under a name that stays: what is plugged in anew is
// another terminal under the same name.
type cable struct {
	name   string
	master *os.File
}

func (c *cable) plugIn() error {
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		return err
	}
	number, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0)
	}
	if err != nil {
		return errors.Join(err, master.Close())
	}
	c.master = master
	_ = os.Remove(c.name) // there is none the first time
	return os.Symlink(fmt.Sprintf("/dev/pts/%d", number), c.name)
}

func (c *cable) pull() {
	if c.master != nil {
		_ = c.master.Close()
		_ = os.Remove(c.name)
	}
	c.master = nil
}

// recorder keeps the chunks that the server acknowledged, and lets the node ask for
// its order from an instant on.
type recorder struct {
	from time.Time
	mu   sync.Mutex
	kept [][]byte
}

func (r *recorder) RoundTrip(q *http.Request) (*http.Response, error) {
	if q.Method == http.MethodGet {
		time.Sleep(time.Until(r.from))
	}
	var body []byte
	if q.Method == http.MethodPost {
		body, _ = io.ReadAll(q.Body)
		q.Body = io.NopCloser(bytes.NewReader(body))
	}
	a, err := http.DefaultTransport.RoundTrip(q)
	if err == nil && a.StatusCode == http.StatusOK && body != nil {
		r.mu.Lock()
		r.kept = append(r.kept, body)
		r.mu.Unlock()
	}
	return a, err
}

// TestProveNodeOverAPty: a box at a pseudo-terminal, the node with its spool, a real
// server. Each run that there was stands on the board once, with its flags.
func TestProveNodeOverAPty(t *testing.T) {
	runs, side := 10, 3
	if os.Getenv("BENCHMEET_PROVE") == "1" {
		runs, side = 200, 4
	}
	v := newVictim(t, "")
	desk := &rehearsal.Client{Base: v.base, Token: v.secret, HTTP: &http.Client{Timeout: 20 * time.Second}}
	for bench := 1; bench <= side; bench++ {
		order(t, desk, http.MethodPut, fmt.Sprintf("/api/v1/benches/b%d", bench), gen.BenchBody{Number: bench, CircumferenceMm: 94.25})
	}
	var all sync.WaitGroup
	for bench := 1; bench <= side; bench++ {
		all.Go(func() {
			for n := bench - 1; n < runs; n += side {
				overAPty(t, v, desk, bench, uint64(5+n*7)) // all kinds, with and without checksums
			}
		})
	}
	all.Wait()
}

var (
	orderMu  sync.Mutex
	orderNow int
)

// order gives an order under an id of its own.
func order(t *testing.T, desk *rehearsal.Client, method, path string, body any) {
	t.Helper()
	orderMu.Lock()
	orderNow++
	id := fmt.Sprintf("01890000-0000-7000-9000-%012d", orderNow)
	orderMu.Unlock()
	if _, err := desk.Order(t.Context(), method, path, id, body); err != nil {
		t.Error(err)
	}
}

// overAPty plays one run at a bench.
func overAPty(t *testing.T, v *victim, desk *rehearsal.Client, bench int, seed uint64) {
	h := nodetest.Made(seed)
	truth := h.Play()
	name := fmt.Sprintf("seed %d, %s, checksums %v", seed, h.Name, h.Summed)
	plug := &cable{name: filepath.Join(t.TempDir(), "box")}
	if err := plug.plugIn(); err != nil {
		t.Error(err)
		return
	}
	defer plug.pull()
	spool, err := node.OpenSpool(t.TempDir())
	if err != nil {
		t.Error(err)
		return
	}
	var said lockedBuffer
	id := fmt.Sprintf("b%d", bench)
	order(t, desk, http.MethodPost, "/api/v1/benches/"+id+"/practice", gen.ArmPractice{RaceS: h.Race})
	began := time.Now()
	instant := func(hall float64) time.Time { return began.Add(time.Duration(hall / ptyScale * float64(time.Second))) }
	until := func(hall float64) { time.Sleep(time.Until(instant(hall))) }
	record := &recorder{from: instant(h.Orders)}
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	defer stop()
	clock := node.NewScaled(ptyScale)
	agent := node.New(node.Options{
		Server: node.Server{Base: v.base, Bench: id, Token: v.secret, HTTP: &http.Client{Timeout: 20 * time.Second, Transport: record}},
		Spool:  spool, Clock: clock, PollEvery: 100 * time.Millisecond,
		Open: func(context.Context) (io.ReadCloser, error) {
			return serial.Open(plug.name, &serial.Mode{BaudRate: 115200})
		},
		Log: slog.New(slog.NewTextHandler(&said, nil)),
	})
	ended := make(chan error, 1)
	go func() { ended <- agent.Run(ctx) }()

	out := 0
	for _, l := range truth.Lines {
		if out < len(h.CableOut) && l.At >= h.CableOut[out][0] {
			until(h.CableOut[out][0])
			plug.pull()
			until(h.CableOut[out][1])
			if err := plug.plugIn(); err != nil {
				t.Errorf("%s: %v", name, err)
				return
			}
			out++
		}
		until(l.At)
		if _, err := io.WriteString(plug.master, l.Bytes); err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
	}
	// The board names practice runs after the bench and the number of the arming.
	var mine []gen.PracticeRun
	for len(mine) == 0 && ctx.Err() == nil {
		time.Sleep(50 * time.Millisecond)
		mine = onBoard(t, desk, id, record)
	}
	until(h.Runs + 3)
	mine = onBoard(t, desk, id, record)
	stop()
	if err := <-ended; err != nil {
		t.Errorf("%s: %v", name, err)
	}
	if len(mine) != 1 {
		t.Errorf("%s: %d runs stand on the board\n%s", name, len(mine), said.String())
		return
	}
	w := nodetest.Window{From: h.Orders + 1, To: h.Orders + h.Race, Loose: true}
	for _, c := range h.CableOut {
		w.Blind = append(w.Blind, [2]float64{c[0] - 0.5, c[1] + 3}) // until the node has found it again
	}
	record.mu.Lock()
	kept := slices.Clone(record.kept)
	record.mu.Unlock()
	if err := h.Judge(truth, kept, w); err != nil {
		t.Errorf("%s: %v\n%s", name, err, said.String())
	}
	flags := ""
	for _, f := range mine[0].Figures.Flags {
		flags += f.Code + " "
	}
	if (len(h.Restarts) > 0) != strings.Contains(flags, "restarted") {
		t.Errorf("%s: the board says %s", name, flags)
	}
	if !h.Summed && len(h.CableOut) > 0 && !strings.Contains(flags, "passes-lost") {
		t.Errorf("%s: the board says %s", name, flags)
	}
	if h.Name == "clean" && strings.Contains(flags, "passes-lost") {
		t.Errorf("%s: the board says %s\n%s", name, flags, said.String())
	}
}

// onBoard lists the practice runs of a bench of which a node has sent chunks.
func onBoard(t *testing.T, desk *rehearsal.Client, bench string, r *recorder) (out []gen.PracticeRun) {
	t.Helper()
	var board gen.PracticeBoard
	if err := desk.Get(t.Context(), "/api/v1/practice?limit=500", &board); err != nil {
		t.Error(err)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, run := range board.Runs {
		sent := slices.ContainsFunc(r.kept, func(body []byte) bool {
			return bytes.Contains(body, []byte(`"run":"`+strings.SplitN(run.Id, ".", 2)[0]+`"`))
		})
		if run.Bench == bench && sent {
			out = append(out, run)
		}
	}
	return out
}

// lockedBuffer is a log that two may use at a time.
type lockedBuffer struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.text.String()
}
