package node

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io"
	"log/slog"
	"time"

	"golang.org/x/sync/errgroup"

	"benchmeet/api/gen"
	"benchmeet/domain/trace"
)

// Options are what a node needs.
type Options struct {
	Server Server
	Spool  *Spool
	// Source is the counter box: its lines. Nil waits for Made alone.
	Source io.Reader
	// Made makes the passes of a run instead of a counter box: a simulated bench.
	Made func(ctx context.Context, o gen.BenchOrder, to chan<- Reading)
	// PollEvery is how often the server is asked; 0 is 300 ms.
	PollEvery time.Duration
	Log       *slog.Logger
}

// Node is the agent of one bench.
type Node struct {
	Options
	boot     string
	readings chan Reading
	// offset is the box's clock seen from the node's: the smallest delay of the
	// last readings, so that lines that were held up do not count.
	offset      time.Duration
	offsetKnown bool
	lastUS      int64
	signal      int64 // the box's own start signal, if one came since the last run
	signalled   bool
	signalledAt time.Time
	now         *run
	done        map[string]bool // runs that were made since the node started
}

// New makes a node.
func New(o Options) *Node {
	if o.PollEvery == 0 {
		o.PollEvery = 300 * time.Millisecond
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Node{Options: o, boot: newBoot(), readings: make(chan Reading, 4096), done: map[string]bool{}}
}

// newBoot draws the random number of a start.
func newBoot() string {
	var b [8]byte
	rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// Run works until ctx ends or the source does; then it finishes sending what is
// kept, as long as ctx lasts.
func (n *Node) Run(ctx context.Context) error {
	group, ctx := errgroup.WithContext(ctx)
	if n.Source != nil {
		group.Go(func() error {
			err := Read(ctx, n.Source, n.readings, func(err error) { n.Log.Warn("a line was left out", "why", err) })
			if errors.Is(err, io.EOF) {
				<-ctx.Done() // what is kept is still sent
			}
			return err
		})
	}
	orders := make(chan order)
	group.Go(func() error { return n.poll(ctx, orders) })
	group.Go(func() error { return n.work(ctx, orders) })
	group.Go(func() error { return n.send(ctx) })
	err := group.Wait()
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// order is what the server said, and how late it may be.
type order struct {
	gen.BenchOrder
	delay time.Duration
}

// poll asks the server now and then.
func (n *Node) poll(ctx context.Context, to chan<- order) error {
	tick := time.NewTicker(n.PollEvery)
	defer tick.Stop()
	away := false
	for {
		o, delay, err := n.Server.Order(ctx)
		if (err != nil) != away && ctx.Err() == nil {
			away = err != nil
			n.Log.Info("server", "reached", !away, "why", err)
		}
		if err == nil {
			select {
			case to <- order{o, delay + n.PollEvery}:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// work turns readings and orders into chunks.
func (n *Node) work(ctx context.Context, orders <-chan order) error {
	tick := time.NewTicker(chunkEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case r := <-n.readings:
			n.read(r)
		case o := <-orders:
			n.obey(ctx, o)
		case <-tick.C:
			if err := n.cut(); err != nil {
				return err
			}
		}
	}
}

// read takes a reading in.
func (n *Node) read(r Reading) {
	if r.US < n.lastUS {
		// The box was started anew; what was cut so far stays under the old boot.
		n.boot, n.offsetKnown, n.signalled = newBoot(), false, false
		if n.now != nil {
			n.Log.Warn("the counter box was started anew in the middle of a run", "run", *n.now.order.Run)
			n.now.restarted(n.boot)
		}
	}
	n.lastUS = r.US
	seen := time.Duration(r.Arrived.UnixMicro()-r.US) * time.Microsecond
	if !n.offsetKnown || seen < n.offset {
		n.offset, n.offsetKnown = seen, true
	}
	switch {
	case r.Kind == Start:
		n.signal, n.signalled, n.signalledAt = r.US, true, r.Arrived
		if n.now != nil {
			n.now.started(r.US, trace.StartBenchClock)
			n.signalled = false
		}
	case r.Kind == Pass && n.now != nil:
		n.now.add(r.US)
	}
}

// signalGood is how long before the server's word the box's start signal may have
// come and still be this run's.
const signalGood = 3 * time.Second

// obey begins the run that the server asks for, once.
func (n *Node) obey(ctx context.Context, o order) {
	asked := o.Run != nil && o.RaceS != nil &&
		(o.Kind == gen.BenchOrderKindPractice || o.State != nil && *o.State == gen.BenchOrderStateRacing)
	if !asked || n.now != nil || n.done[*o.Run] {
		return
	}
	n.done[*o.Run] = true
	n.now = begin(n.boot, o.BenchOrder, time.Now(), o.delay)
	if n.signalled && time.Since(n.signalledAt) < signalGood {
		n.now.started(n.signal, trace.StartBenchClock)
	}
	n.signalled = false
	n.Log.Info("run begins", "run", *o.Run, "seconds", *o.RaceS)
	if n.Made != nil {
		go n.Made(ctx, o.BenchOrder, n.readings)
	}
}

// cut puts the stamps so far into a chunk on disk, and closes a run that is over.
func (n *Node) cut() error {
	if n.now == nil {
		return nil
	}
	closing := !time.Now().Before(n.now.ends)
	if closing && n.offsetKnown && !n.now.lostStart {
		// Only now: the offset is the better the more lines have come.
		n.now.started(n.now.began.UnixMicro()-n.offset.Microseconds(), trace.StartArrival)
	}
	for {
		body, err := n.now.chunk(closing)
		if err != nil || body == nil {
			return err
		}
		if err := n.Spool.Put(body); err != nil {
			return err
		}
		if len(n.now.stamps) == 0 {
			break
		}
	}
	if closing {
		n.Log.Info("run is over", "run", *n.now.order.Run, "stamps", n.now.totals.Stamps)
		n.now = nil
	}
	return nil
}

// sendAgain is how long a node waits after the server did not answer.
const sendAgain = 500 * time.Millisecond

// send hands chunks in, oldest first, until each is acknowledged.
func (n *Node) send(ctx context.Context) error {
	for {
		waiting, err := n.Spool.Waiting()
		if err != nil {
			return err
		}
		for _, number := range waiting {
			if err := n.sendOne(ctx, number); err != nil {
				return err
			}
		}
		if len(waiting) > 0 {
			continue
		}
		select {
		case <-n.Spool.wake:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (n *Node) sendOne(ctx context.Context, number int) error {
	body, err := n.Spool.Get(number)
	if err != nil {
		return err
	}
	for {
		refused, err := n.Server.Post(ctx, body)
		switch {
		case err == nil:
			return n.Spool.Done(number)
		case refused:
			n.Log.Error("a chunk was refused and is set aside", "why", err)
			return n.Spool.SetAside(number)
		}
		select {
		case <-time.After(sendAgain):
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}
