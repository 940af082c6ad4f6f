package node

import (
	"context"
	"io"
	"log/slog"
)

// Heard is what a counter box said of one of its inputs in a while.
type Heard struct {
	// Passes are the stamps, in µs of the box's clock without wraps; LastUS is the last
	// that it said of its clock, with a pass or without.
	Passes []int64
	LastUS int64
	// Lines is how many came. Lost are the passes that are missing, and lines that may
	// have been some; Restarts how often the box's clock began anew. A pass before the
	// box's hello is not lost: nobody began to count.
	Lines, Lost, Restarts int
}

func (h *Heard) read(r Reading) {
	if r.Kind == Pass {
		h.Passes = append(h.Passes, r.US)
	}
	h.LastUS = max(h.LastUS, r.US)
}

// restarted forgets what came before: it is on another clock.
func (h *Heard) restarted() {
	h.Restarts++
	h.Passes, h.LastUS = nil, 0
}

func (h *Heard) lost(passes int) { h.Lost += passes }

func (h *Heard) unread() {}

func (h *Heard) compared(Rate) {}

// Listen hears one input of a counter box until ctx ends or the line does, for good. It
// sends nothing and keeps nothing.
func Listen(ctx context.Context, open func(context.Context) (io.ReadCloser, error), input int, log *slog.Logger) (Heard, error) {
	line, err := open(ctx)
	if err != nil {
		return Heard{}, err
	}
	var h Heard
	b := newBox(input, &h, log)
	words := make(chan word)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	p := &port{once: true, clock: NewScaled(1), log: log, to: words}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		_, _ = p.read(ctx, line)
	}()
	for {
		select {
		case w := <-words:
			h.Lines++
			b.line(w.text, w.at)
		// What waits to be decided at the end is left: it is a line or two.
		case <-ended:
			return h, nil
		// A line that cannot be closed, such as a pipe, may never end: it is left.
		case <-ctx.Done():
			return h, nil
		}
	}
}
