package node

import (
	"encoding/json"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/trace"
)

// chunkEvery is how often a run's stamps leave: a screen shows live speed.
const chunkEvery = 500 * time.Millisecond

// grace is how long a run goes on after its end, so that the interpolation at the
// end has a pass behind it.
const grace = 300 * time.Millisecond

// run is one run under way.
type run struct {
	boot  string
	order gen.BenchOrder
	began time.Time
	delay time.Duration
	ends  time.Time
	// lostStart is set when the box was started anew: its clock no longer knows
	// the start.
	lostStart bool
	totals    trace.Totals
	// stamps are those that are not in a chunk yet.
	stamps []int64
	last   int64
}

// begin starts a run at an instant of the node's clock. Delay is how late the
// server's word may have been.
func begin(boot string, o gen.BenchOrder, at time.Time, delay time.Duration) *run {
	race := time.Duration(*o.RaceS * float64(time.Second))
	r := &run{boot: boot, order: o, began: at, delay: delay, ends: at.Add(race + grace)}
	if o.Meet != nil {
		r.totals.Meet = *o.Meet
	}
	return r
}

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

// restarted goes on under another boot: the box lost power in the run, and what
// it stamped before stays under the old one.
func (r *run) restarted(boot string) {
	r.boot, r.last = boot, 0
	r.totals = trace.Totals{Meet: r.totals.Meet}
	r.lostStart = true
}

// add takes a pass in; one that runs backwards is left out, for the box's clock
// cannot do that within a boot.
func (r *run) add(us int64) {
	if us >= r.last {
		r.stamps, r.last = append(r.stamps, us), us
	}
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
	body := struct {
		Boot   string        `json:"boot"`
		Run    string        `json:"run"`
		Number int           `json:"number"`
		Stamps []int64       `json:"stamps_us"`
		Last   *trace.Totals `json:"last,omitempty"`
	}{Boot: r.boot, Run: *r.order.Run, Number: r.totals.Chunks, Stamps: append([]int64{}, stamps...)}
	r.totals.Chunks++
	r.totals.Stamps += len(stamps)
	if closing && len(r.stamps) == 0 {
		totals := r.totals
		body.Last = &totals
	}
	return json.Marshal(body)
}
