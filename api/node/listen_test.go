package node_test

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"testing"
	"time"

	"benchmeet/api/node"
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
