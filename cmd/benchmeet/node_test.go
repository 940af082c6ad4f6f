package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/node"
	"benchmeet/api/rehearsal"
)

// TestNodeHandsARunInThroughAServerThatDies arms a practice run, lets a counter
// box of ten passes a second feed the node, and kills the server in the middle.
func TestNodeHandsARunInThroughAServerThatDies(t *testing.T) {
	v := newVictim(t, "")
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	desk := &rehearsal.Client{Base: v.base, Token: v.secret, HTTP: &http.Client{}}
	order := func(n int, method, path string, body any) {
		t.Helper()
		if _, err := desk.Order(ctx, method, path, fmt.Sprintf("01890000-0000-7000-8000-%012d", n), body); err != nil {
			t.Fatal(err)
		}
	}
	order(1, http.MethodPut, "/api/v1/benches/b1", gen.BenchBody{Number: 1, CircumferenceMm: 100})
	spool, err := node.OpenSpool(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	box, lines := io.Pipe()
	agent := node.New(node.Options{
		Server: node.Server{Base: v.base, Bench: "b1", Token: v.secret, HTTP: &http.Client{Timeout: 2 * time.Second}},
		Spool:  spool, Source: box, PollEvery: 50 * time.Millisecond,
	})
	working, stop := context.WithCancel(ctx)
	ended := make(chan error, 1)
	go func() { ended <- agent.Run(working) }()
	go turn(working, lines)

	car := 12
	order(2, http.MethodPost, "/api/v1/benches/b1/practice", gen.ArmPractice{CarNumber: &car, RaceS: 2})
	time.Sleep(time.Second) // in the middle of the run
	v.kill()
	time.Sleep(1500 * time.Millisecond) // it ends while the server is away
	v.start()

	var board gen.PracticeBoard
	for len(board.Runs) == 0 && ctx.Err() == nil {
		if err := desk.Get(ctx, "/api/v1/practice", &board); err != nil {
			t.Fatal(err)
		}
		time.Sleep(50 * time.Millisecond)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	if len(board.Runs) != 1 {
		t.Fatalf("%d runs are there, want 1", len(board.Runs))
	}
	r := board.Runs[0]
	// 20 turns of 0.1 m in two seconds, but for the delay of the start.
	if r.CarNumber == nil || *r.CarNumber != car || r.Figures.DistanceM < 1.8 || r.Figures.DistanceM > 2.05 ||
		r.Figures.UDistanceM == nil || *r.Figures.UDistanceM <= 0 {
		t.Errorf("the run is %+v", r)
	}
	if waiting, err := spool.Waiting(); err != nil || len(waiting) != 0 {
		t.Errorf("%d chunks still wait, %v", len(waiting), err)
	}
}

// turn is a counter box whose roller does ten turns a second.
func turn(ctx context.Context, to io.WriteCloser) {
	defer to.Close()
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	for us := int64(5_000_000); ; us += 100_000 {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			if _, err := fmt.Fprintln(to, us); err != nil {
				return
			}
		}
	}
}

func TestNodeSaysWhatItNeeds(t *testing.T) {
	code, _, stderr := runHere(t, "node", "--bench", "b1")
	if code != exitUsage || !strings.Contains(stderr, "--server") {
		t.Errorf("exit %d, said %q", code, stderr)
	}
}
