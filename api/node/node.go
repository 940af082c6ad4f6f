package node

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"log/slog"
	"math"
	"time"

	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
)

// Options are what a node needs.
type Options struct {
	Server Server
	Spool  *Spool
	// Open opens the line to the counter box; it is opened again whenever it is lost.
	Open func(context.Context) (io.ReadCloser, error)
	// Source is a line that cannot be opened again: standard input. When it ends, a
	// run under way is closed, what is kept is sent, and Run returns.
	Source io.Reader
	// Input is the sensor of the box that is this bench's; 0 is 1.
	Input int
	// Made makes the passes of a run instead of a counter box: a simulated bench.
	Made func(ctx context.Context, o gen.BenchOrder, to chan<- Reading)
	// PollEvery is how often the server is asked; 0 is 300 ms.
	PollEvery time.Duration
	// Clock is the time that the node goes by; nil is life.
	Clock Clock
	Log   *slog.Logger
}

// Node is the agent of one bench.
type Node struct {
	Options
	runs     *runs
	words    chan word
	readings chan Reading
	line     lineState
}

// New makes a node.
func New(o Options) *Node {
	if o.PollEvery == 0 {
		o.PollEvery = 300 * time.Millisecond
	}
	if o.Clock == nil {
		o.Clock = NewScaled(1)
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	n := &Node{Options: o, words: make(chan word, 4096), readings: make(chan Reading, 4096)}
	n.runs = newRuns(o.Input, o.Log, o.Spool.Put)
	return n
}

// newBoot draws the random number of a start.
func newBoot() string {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// errEnded says that standard input has ended and all is sent.
var errEnded = errors.New("the lines of the counter box have ended")

// Run works until ctx ends; or until a source that cannot be opened again has
// ended and what is kept is sent. It leaves a source that is silent behind: the
// line is closed, and a read that does not even then come back is not waited for.
func (n *Node) Run(ctx context.Context) error {
	n.runs.resume(n.Spool.Open(), n.Clock.Now())
	group, ctx := errgroup.WithContext(ctx)
	if open := n.opening(); open != nil {
		p := &port{open: open, once: n.Source != nil, clock: n.Clock, log: n.Log, to: n.words, state: &n.line}
		go func() { _ = p.run(ctx) }()
	}
	ended := make(chan struct{})
	orders := make(chan order)
	group.Go(func() error { return n.poll(ctx, orders) })
	group.Go(func() error { return n.work(ctx, orders, ended) })
	group.Go(func() error { return n.send(ctx, ended) })
	group.Go(func() error { return n.compare(ctx) })
	err := group.Wait()
	if errors.Is(err, errEnded) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return nil
	}
	return err
}

// opening is how the line to the box is opened; nil where there is none.
func (n *Node) opening() func(context.Context) (io.ReadCloser, error) {
	if n.Source == nil {
		return n.Open
	}
	return func(context.Context) (io.ReadCloser, error) {
		if c, is := n.Source.(io.ReadCloser); is {
			return c, nil
		}
		return io.NopCloser(n.Source), nil
	}
}

// order is what the server said, and how late it may be.
type order struct {
	gen.BenchOrder
	delay time.Duration
}

// poll asks the server now and then.
func (n *Node) poll(ctx context.Context, to chan<- order) error {
	away := false
	for {
		asked := n.Clock.Now()
		o, err := n.Server.Order(ctx, n.line.isLost(asked))
		if (err != nil) != away && ctx.Err() == nil {
			away = err != nil
			n.Log.Info("server", "reached", !away, "why", err)
		}
		if err == nil {
			select {
			case to <- order{o, n.Clock.Now().Sub(asked) + n.PollEvery}:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		select {
		case <-n.Clock.After(n.PollEvery):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// work turns lines and orders into chunks.
func (n *Node) work(ctx context.Context, orders <-chan order, ended chan<- struct{}) error {
	cut := n.Clock.After(chunkEvery)
	for {
		// One goroutine takes in everything that runs knows, so that it needs no lock.
		select {
		case <-ctx.Done():
			return ctx.Err()
		case w := <-n.words:
			switch w.kind {
			case lineCame:
				n.runs.box.line(w.text, w.at)
			case portClosed:
				n.runs.box.closed()
			case portEnded:
				n.runs.box.closed()
				if err := n.runs.end(); err != nil {
					return err
				}
				close(ended)
			}
		case r := <-n.readings:
			n.runs.read(r)
		case o := <-orders:
			// A simulated box sends readings, which this loop takes: it must not wait for them.
			if n.runs.obey(o.BenchOrder, o.delay, n.Clock.Now()) && n.Made != nil {
				go n.Made(ctx, o.BenchOrder, n.readings)
			}
		case <-cut:
			if err := n.runs.cut(n.Clock.Now()); err != nil {
				return err
			}
			cut = n.Clock.After(chunkEvery)
		}
	}
}

const (
	// sendAgain and sendSeldom bound how long a node waits before it hands in again
	// what the server did not take.
	sendAgain  = 500 * time.Millisecond
	sendSeldom = 8 * time.Second
)

// send hands chunks in, oldest first, until each is acknowledged. One that is not
// taken does not hold up the others, unless nobody answers at all.
func (n *Node) send(ctx context.Context, ended <-chan struct{}) error {
	wait := sendAgain
	for {
		waiting, err := n.Spool.Waiting()
		if err != nil {
			return err
		}
		left := 0
		for _, number := range waiting {
			state, err := n.sendOne(ctx, number)
			switch {
			case err != nil:
				return err
			case state == notAnswered:
				// Nobody is there for any of them, so the others are not tried either.
				left = len(waiting)
			case state == notTaken:
				left++
			}
			if state == notAnswered {
				break
			}
		}
		if left == 0 {
			wait = sendAgain
			// While these were handed in, others may have come.
			if len(waiting) > 0 {
				continue
			}
			// What was put into the spool goes before the end: of two that are ready, select takes either.
			select {
			case <-n.Spool.wake:
				continue
			default:
			}
			select {
			case <-n.Spool.wake:
			case <-ended:
				return errEnded
			case <-ctx.Done():
				return ctx.Err()
			}
			continue
		}
		select {
		// The end is not looked at here: a node stays until all is handed in.
		case <-n.Clock.After(wait):
			wait = min(2*wait, sendSeldom)
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// sendOne hands one chunk in and forgets it where the server has it.
func (n *Node) sendOne(ctx context.Context, number int) (handed, error) {
	body, err := n.Spool.Get(number)
	if err != nil {
		return notTaken, err
	}
	state, why := n.Server.Post(ctx, body)
	if ctx.Err() != nil && state != taken {
		return notAnswered, ctx.Err()
	}
	switch state {
	case taken:
		return state, n.Spool.Done(number)
	case refused:
		n.Log.Error("the server refuses a chunk; it is set aside, and offered again when the node starts next", "why", why)
		return state, n.Spool.SetAside(number)
	}
	n.Log.Warn("a chunk is not handed in yet; trying again", "why", why)
	return state, nil
}

// compare tells what the box's clock is off against what the bench's settings say.
func (n *Node) compare(ctx context.Context) error {
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case rate := <-n.runs.rates:
			set, known := n.Server.ClockPPM(ctx)
			n.Log.Info(
				"the clock of the counter box against this computer's", "ppm", math.Round(rate.PPM), "u_ppm", math.Round(rate.UPPM), "clock_ppm", set,
			)
			if known && rate.Beyond(set) {
				n.Log.Warn(rate.Says(set))
			}
		}
	}
}
