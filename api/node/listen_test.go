package node_test

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"strings"
	"testing"
	"time"

	"benchmeet/api/node"
	"benchmeet/api/node/nodetest"
)

// TestListenEndsInTime: a box at a pipe that goes on to write does not keep who listens.
func TestListenEndsInTime(t *testing.T) {
	read, write := io.Pipe()
	t.Cleanup(func() { _ = read.Close() })
	go func() {
		for us := 0; ; us += 6000 {
			if _, err := fmt.Fprintln(write, us); err != nil {
				return
			}
			time.Sleep(time.Millisecond)
		}
	}()
	ctx, cancel := context.WithTimeout(t.Context(), 200*time.Millisecond)
	defer cancel()
	done := make(chan node.Heard, 1)
	go func() {
		heard, _ := node.Listen(ctx, func(context.Context) (io.ReadCloser, error) { return io.NopCloser(read), nil }, 1,
			slog.New(slog.DiscardHandler))
		done <- heard
	}()
	select {
	case heard := <-done:
		if len(heard.Passes) == 0 {
			t.Error("nothing was heard")
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it listens on, long after its time")
	}
}

// TestListenBeforeHello: whoever listens while the roller turns comes in between two hellos.
// The passes that came until then were not lost on the way; a line that cannot be read was,
// and so was what is missing behind the hello.
func TestListenBeforeHello(t *testing.T) {
	const hello = "box v1 boot=17 bits=32 hz=1000000 sum=1"
	sum := func(body string) string { return fmt.Sprintf("%s*%04X", body, nodetest.Checksum(body)) }
	pass := func(n int) string { return fmt.Sprintf("%d@%d", n, 1_000_000+10_000*n) }
	spoiled := func(n int) string { return sum(pass(n))[1:] }
	for _, tt := range []struct {
		name         string
		lines        []string
		passes, lost int
	}{
		{"in between", []string{sum(pass(41)), sum(pass(42)), sum(hello), sum(pass(43)), sum(pass(44))}, 2, 0},
		{"one is missing behind it", []string{sum(pass(41)), sum(hello), sum(pass(42)), sum(pass(44))}, 2, 1},
		{"one is spoiled before it", []string{spoiled(41), sum(hello), sum(pass(42)), sum(pass(43))}, 2, 1},
		{"none can be read", []string{spoiled(41), spoiled(42), spoiled(43)}, 0, 3},
	} {
		line := io.NopCloser(strings.NewReader(strings.Join(tt.lines, "\n") + "\n"))
		heard, err := node.Listen(t.Context(), func(context.Context) (io.ReadCloser, error) { return line, nil }, 1,
			slog.New(slog.DiscardHandler))
		if err != nil || len(heard.Passes) != tt.passes || heard.Lost != tt.lost {
			t.Errorf("%s: %d passes and %d lost (%v), want %d and %d", tt.name, len(heard.Passes), heard.Lost, err, tt.passes, tt.lost)
		}
	}
}
