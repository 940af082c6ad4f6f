package node

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"sync"
	"time"
)

// wordKind says what happened at the line to the box.
type wordKind int

const (
	lineCame wordKind = iota
	portClosed
	portEnded // for good
)

// word is one thing that happened at the line to the box.
type word struct {
	kind wordKind
	text string
	at   time.Time
}

const (
	// openAgain and openSeldom bound how long a node waits before it tries to open
	// the line again.
	openAgain  = 200 * time.Millisecond
	openSeldom = 2 * time.Second
)

// port reads the line to a counter box, and opens it again when it is lost.
type port struct {
	open  func(context.Context) (io.ReadCloser, error)
	once  bool // it cannot be opened again: standard input
	clock Clock
	log   *slog.Logger
	to    chan<- word
	state *lineState // nil where nobody asks
}

// run reads until ctx ends, or the end of a line that cannot be opened again.
// A read that does not come back is left by closing the line when ctx ends.
func (p *port) run(ctx context.Context) error {
	wait, away := openAgain, false
	for {
		line, err := p.open(ctx)
		if err == nil {
			if away {
				p.log.Info("the counter box is there again")
			}
			wait = openAgain
			p.state.opened(p.clock.Now())
			var heard bool
			heard, err = p.read(ctx, line)
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if p.once {
				if errors.Is(err, io.EOF) {
					p.log.Info("the lines of the counter box have ended; what is kept is still sent")
				} else {
					p.log.Error("the counter box cannot be read; what is kept is still sent", "why", err)
				}
				return p.say(ctx, word{kind: portEnded, at: p.clock.Now()})
			}
			p.log.Warn("the counter box is gone: is its cable in?", "why", err)
			away = true
			p.state.lost()
			if err := p.say(ctx, word{kind: portClosed, at: p.clock.Now()}); err != nil {
				return err
			}
			if !heard {
				wait = openSeldom // it opens and says nothing: no haste
			}
		} else if !away && ctx.Err() == nil {
			p.log.Warn("the counter box cannot be opened, trying again (is it plugged in, and may you read it?)", "why", err)
			away = true
			p.state.lost()
		}
		select {
		case <-p.clock.After(wait):
			wait = min(2*wait, openSeldom)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// read hands on lines until the line to the box is lost. Heard says that something
// came.
func (p *port) read(ctx context.Context, line io.ReadCloser) (heard bool, err error) {
	var closing sync.Once
	closeIt := func() { closing.Do(func() { _ = line.Close() }) }
	stop := context.AfterFunc(ctx, closeIt)
	defer closeIt()
	defer stop()
	var lines splitter
	buffer := make([]byte, 4096)
	for {
		n, err := line.Read(buffer)
		at := p.clock.Now()
		heard = heard || n > 0
		lines.feed(buffer[:n], func(text string) {
			p.state.came(text, at)
			if err == nil || ctx.Err() == nil {
				_ = p.say(ctx, word{lineCame, text, at})
			}
		})
		if n == 0 && err == nil {
			err = io.EOF // a serial line that was pulled
		}
		if err == nil {
			continue
		}
		if rest := lines.rest(); p.once && rest != "" {
			_ = p.say(ctx, word{lineCame, rest, at})
		}
		return heard, err
	}
}

func (p *port) say(ctx context.Context, w word) error {
	select {
	case p.to <- w:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
