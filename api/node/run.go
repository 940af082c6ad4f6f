package node

import (
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/trace"
)

const (
	// chunkEvery is how often a run's stamps leave: a screen shows live speed.
	chunkEvery = 500 * time.Millisecond
	// grace is how long a run goes on after its end, so that the interpolation at the
	// end has a pass behind it, and patience how much longer where the box has not
	// shown a time behind the end yet.
	grace    = 300 * time.Millisecond
	patience = 1500 * time.Millisecond
)

// run is one run under way. Its times are those of the box's clock as it was when
// the run began; where the box restarts, the new clock is put behind the old one.
type run struct {
	boot   string
	order  gen.BenchOrder
	began  time.Time
	delay  time.Duration
	ends   time.Time
	totals trace.Totals
	// stamps are those that are not in a chunk yet.
	stamps []int64
	last   int64
}

// begin starts a run at an instant of the node's clock. Delay is how late the
// server's word may have been.
func begin(boot string, o gen.BenchOrder, at time.Time, delay time.Duration) *run {
	r := &run{boot: boot, order: o, began: at, delay: delay}
	r.ends = at.Add(r.race() + grace)
	if o.Meet != nil {
		r.totals.Meet = *o.Meet
	}
	return r
}

func (r *run) race() time.Duration { return time.Duration(*r.order.RaceS * float64(time.Second)) }

// started notes the start on the box's clock. The box's own signal counts before
// the arrival of the server's word; with neither the run is measured from its
// first to its last pass.
func (r *run) started(boxUS int64, source trace.StartSource) {
	if boxUS < 0 || r.totals.StartSource == trace.StartBenchClock {
		return
	}
	r.totals.StartSource, r.totals.StartUS = source, boxUS
	r.totals.DurationUS = int64(*r.order.RaceS * 1e6)
	r.totals.StartDelayUS = 0
	if source == trace.StartArrival {
		r.totals.StartDelayUS = r.delay.Microseconds()
	}
}

// signalled notes the box's own start signal, which came at an instant. The run
// lasts its time from there.
func (r *run) signalled(boxUS int64, at time.Time) {
	if len(r.totals.RestartsUS) > 0 || r.totals.StartSource == trace.StartBenchClock {
		return // a box that restarts may say it again
	}
	r.started(boxUS, trace.StartBenchClock)
	if ends := at.Add(r.race() + grace); ends.After(r.ends) {
		r.ends = ends
	}
}

// mostRestarts is how many restarts a run's totals list: a box that does nothing
// else has a loose plug, and measures nothing.
const mostRestarts = 1000

// restartedAt notes that what follows comes from a clock that began anew.
func (r *run) restartedAt(us int64) {
	if len(r.totals.RestartsUS) < mostRestarts {
		r.totals.RestartsUS = append(r.totals.RestartsUS, us)
	}
}

// over says whether the run is to be closed: its time is up, and the box's clock
// has shown a time behind its end, or nothing more is to be waited for.
func (r *run) over(now time.Time, seenUS int64) bool {
	if now.Before(r.ends) {
		return false
	}
	t := r.totals
	return t.StartSource != trace.StartNone && seenUS >= t.StartUS+t.DurationUS || !now.Before(r.ends.Add(patience))
}

// add takes a pass in; it is false for one that runs backwards, for the box's clock
// cannot do that.
func (r *run) add(us int64) bool {
	if us < r.last {
		return false
	}
	r.stamps, r.last = append(r.stamps, us), us
	return true
}

// chunk is the next chunk of the run; closing adds the totals. It is nil where
// there is nothing to send.
func (r *run) chunk(closing bool) ([]byte, error) {
	if len(r.stamps) == 0 && !closing {
		return nil, nil
	}
	stamps := r.stamps
	if len(stamps) > trace.MaxStamps {
		stamps = stamps[:trace.MaxStamps]
	}
	r.stamps = r.stamps[len(stamps):]
	c := trace.Chunk{Key: trace.Key{Boot: r.boot, Run: *r.order.Run, Number: r.totals.Chunks}, Stamps: stamps}
	r.totals.Chunks++
	r.totals.Stamps += len(stamps)
	if closing && len(r.stamps) == 0 {
		totals := r.totals
		c.Last = &totals
	}
	return wire.ShowChunk(c)
}
