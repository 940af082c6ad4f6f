package node

import (
	"log/slog"
	"math"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/trace"
)

// runs makes the runs of one bench out of what its box says and what the server
// asks for. It knows no clock and no network: all instants are handed in.
type runs struct {
	box *box
	log *slog.Logger
	// keep puts a chunk and what is open after it onto the disk.
	keep  func(chunk []byte, open *openRun) error
	rates chan Rate
	rate  *Rate // the newest

	boot string
	// base is what is added to the box's clock: 0, but in a run in which it began
	// anew. rebase says that the next reading tells.
	base   int64
	rebase bool
	// placing are the readings behind a restart that are not placed yet.
	placing []Reading
	// resumed says that the node was started anew in the run under way.
	resumed bool
	stale   bool // the boot id is that of an earlier start
	origin  time.Time
	delay   envelope // of the clock with its base
	seen    int64    // the latest time on it
	any     bool

	signal      int64 // the box's own start signal, if one came since the last run
	signalled   bool
	signalledAt time.Time
	now         *run
	done        map[string]bool // runs that were made since the node started
}

func newRuns(input int, log *slog.Logger, keep func([]byte, *openRun) error) *runs {
	r := &runs{log: log, keep: keep, rates: make(chan Rate, 1), boot: newBoot(), done: map[string]bool{}}
	r.box = newBox(input, r, log)
	return r
}

// read takes a reading in.
func (n *runs) read(r Reading) {
	if n.origin.IsZero() {
		n.origin = r.Arrived
	}
	since := r.Arrived.Sub(n.origin)
	// First, because it may find that the box's clock began anew while the node was away.
	if n.resumed {
		n.recognise(r)
	}
	// Where the new clock lies is not known yet, so nothing may be counted by it.
	if n.rebase && n.now != nil {
		n.placing = append(n.placing, r)
		if r.Arrived.Sub(n.placing[0].Arrived) >= placeAfter {
			n.place()
		}
		return
	}
	us := min(r.US+n.base, mostUS)
	n.seen, n.any = max(n.seen, us), true
	n.delay.add(since, since-time.Duration(us)*time.Microsecond)
	switch {
	case r.Kind == Start:
		n.signal, n.signalled, n.signalledAt = us, true, r.Arrived
		// A signal between two runs is kept: the server's word may come after it (signalGood).
		if n.now != nil {
			n.now.signalled(us, r.Arrived)
			n.signalled = false
		}
	case r.Kind == Pass && n.now != nil:
		if !n.now.add(us) {
			n.lost(1)
		}
	}
}

// placeAfter is how long the lines behind a restart are gathered before they are
// placed: the quickest of them says when the new clock began.
const placeAfter = time.Second

// place puts the new clock behind the old one, by the line that was held up least.
func (n *runs) place() {
	readings := n.placing
	n.placing, n.rebase = nil, false
	if len(readings) == 0 {
		return
	}
	least := readings[0]
	began := func(r Reading) time.Duration {
		return r.Arrived.Sub(n.origin) - n.delay.least - time.Duration(r.US)*time.Microsecond
	}
	for _, r := range readings {
		if began(r) < began(least) {
			least = r
		}
	}
	n.base = max(began(least).Microseconds(), n.seen+1-readings[0].US)
	n.now.restartedAt(readings[0].US + n.base)
	n.delay = envelope{} // of the clock with its base it is the same, but for what was late
	for _, r := range readings {
		n.read(r)
	}
}

// restarted notes that the box's clock began anew. A run under way goes on: its
// box is the same, and its car too. What comes now is put behind what came by the
// computer's clock, and the totals say where.
func (n *runs) restarted() {
	n.signalled = false
	if n.now == nil || !n.any {
		n.forget()
		return
	}
	if n.resumed {
		return // the first reading tells
	}
	n.log.Warn("the counter box was started anew in the middle of a run", "run", *n.now.order.Run)
	n.place() // it began anew again before that was done
	n.arrivalStart()
	n.rebase, n.stale = true, true
}

// forget begins the box's clock without a past, under another boot id.
func (n *runs) forget() {
	n.boot, n.base, n.rebase, n.stale = newBoot(), 0, false, false
	n.origin, n.delay, n.seen, n.any = time.Time{}, envelope{}, 0, false
	n.rate = nil
}

// lost counts passes of the run under way that did not come.
func (n *runs) lost(passes int) {
	if n.now != nil {
		n.now.totals.Lost += passes
	}
}

// unread counts a pass of the run under way that the box's hello came too late for.
func (n *runs) unread() { n.lost(1) }

// compared keeps what the box's clock gains, and hands it to whoever tells.
func (n *runs) compared(r Rate) {
	n.rate = &r
	select {
	case n.rates <- r:
	default: // the last is not told yet
	}
}

// signalGood is how long before the server's word the box's start signal may have
// come and still be this run's.
const signalGood = 3 * time.Second

// obey begins the run that the server asks for, once; it says whether it did.
func (n *runs) obey(o gen.BenchOrder, delay time.Duration, now time.Time) bool {
	asked := o.Run != nil && o.RaceS != nil &&
		(o.Kind == gen.BenchOrderKindPractice || o.State != nil && *o.State == gen.BenchOrderStateRacing)
	if !asked || n.now != nil || n.done[*o.Run] {
		return false
	}
	n.done[*o.Run] = true
	if err := day.RunID(*o.Run).Check(); err != nil {
		n.log.Error("the server asks for a run that cannot be sent, so it is not begun", "why", err)
		return false
	}
	if n.stale {
		// What came before is another run's; the clock is the box's own again.
		shift := time.Duration(n.base) * time.Microsecond
		n.delay.shift(shift)
		n.seen, n.signal = n.seen-n.base, n.signal-n.base
		n.boot, n.base, n.stale = newBoot(), 0, false
	}
	n.now = begin(n.boot, o, now, delay)
	if n.signalled && now.Sub(n.signalledAt) < signalGood {
		n.now.signalled(n.signal, n.signalledAt)
	}
	n.signalled = false
	n.log.Info("run begins", "run", *o.Run, "seconds", *o.RaceS)
	return true
}

// arrivalStart sets the start to the arrival of the server's word, where the box
// has no signal and its clock is known.
func (n *runs) arrivalStart() {
	if n.any && !n.rebase && n.now.totals.StartSource == trace.StartNone {
		at := (n.now.began.Sub(n.origin) - n.delay.least).Microseconds()
		n.now.started(at, trace.StartArrival)
	}
}

// settleAfter is how long into a run the start by arrival waits for quick lines:
// as long as the envelope remembers them.
const settleAfter = envelopeBuckets * envelopeBucket

// cut puts the stamps so far into a chunk on disk, and closes a run that is over.
func (n *runs) cut(now time.Time) error {
	if n.now == nil {
		return nil
	}
	if !now.Before(n.now.began.Add(settleAfter)) || !now.Before(n.now.ends) {
		n.arrivalStart()
	}
	closing := n.now.over(now, n.seen)
	if len(n.placing) > 0 && (closing || now.Sub(n.placing[0].Arrived) >= placeAfter) {
		n.place()
	}
	return n.write(closing)
}

// end closes the run under way, for nothing more will come.
func (n *runs) end() error {
	if n.now == nil {
		return nil
	}
	n.place()
	n.arrivalStart()
	return n.write(true)
}

// write cuts chunks off the run until it has no stamps left.
func (n *runs) write(closing bool) error {
	if closing && n.rebase {
		n.now.restartedAt(n.seen) // no line came since
	}
	if closing && n.rate != nil {
		n.now.totals.ClockPPB = int64(math.Round(n.rate.PPM * 1e3))
		n.now.totals.UClockPPB = int64(math.Round(n.rate.UPPM * 1e3))
	}
	for {
		body, err := n.now.chunk(closing)
		if err != nil || body == nil {
			return err
		}
		done := len(n.now.stamps) == 0
		var open *openRun
		if !closing || !done {
			open = n.open()
		}
		if err := n.keep(body, open); err != nil {
			return err
		}
		if done {
			break
		}
	}
	if closing {
		n.log.Info("run is over", "run", *n.now.order.Run, "stamps", n.now.totals.Stamps,
			"lost", n.now.totals.Lost, "restarts", len(n.now.totals.RestartsUS))
		n.now = nil
		if n.rebase || n.resumed {
			n.forget() // no line came since
		}
		n.rebase, n.resumed = false, false
	}
	return nil
}
