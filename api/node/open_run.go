package node

import (
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/trace"
)

// openRun is a run that is not closed, as it stands on disk beside its chunks: a
// node that is started again goes on with it, or closes it.
type openRun struct {
	Boot    string       `json:"boot"`
	Run     string       `json:"run"`
	Meet    string       `json:"meet,omitempty"`
	RaceS   float64      `json:"race_s"`
	Began   time.Time    `json:"began"`
	Ends    time.Time    `json:"ends"`
	DelayUS int64        `json:"delay_us"`
	Totals  trace.Totals `json:"totals"` // of the chunks so far
	LastUS  int64        `json:"last_us"`
	SeenUS  int64        `json:"seen_us"` // the box's clock, with its base
	SeenAt  time.Time    `json:"seen_at"` // when it showed that, but for the quickest line's delay
	BaseUS  int64        `json:"base_us"`
}

// open is what has to be known of the run under way to go on with it.
func (n *runs) open() *openRun {
	r := n.now
	return &openRun{
		Boot: r.boot, Run: *r.order.Run, Meet: r.totals.Meet, RaceS: *r.order.RaceS,
		Began: r.began, Ends: r.ends, DelayUS: r.delay.Microseconds(), Totals: r.totals, LastUS: r.last,
		SeenUS: n.seen, SeenAt: n.origin.Add(n.delay.least + time.Duration(n.seen)*time.Microsecond), BaseUS: n.base,
	}
}

// resume goes on with a run that was under way when the node was stopped. What came
// meanwhile is lost, and said so. A run whose time is up is closed by the next cut.
func (n *runs) resume(o *openRun, now time.Time) {
	if o == nil {
		return
	}
	n.log.Warn("a run was under way when the node stopped; going on with it", "run", o.Run)
	n.boot = o.Boot
	n.now = &run{
		boot:  o.Boot,
		order: gen.BenchOrder{Run: &o.Run, RaceS: &o.RaceS},
		began: o.Began, ends: o.Ends, delay: time.Duration(o.DelayUS) * time.Microsecond,
		totals: o.Totals, last: o.LastUS,
	}
	if o.Meet != "" {
		n.now.order.Meet = &o.Meet
	}
	n.now.totals.Lost++
	n.done[o.Run] = true
	n.origin = o.SeenAt.Add(-time.Duration(o.SeenUS) * time.Microsecond)
	n.seen, n.any = o.SeenUS, true
	n.delay.add(time.Duration(o.SeenUS)*time.Microsecond, 0)
	n.resumed, n.base = true, o.BaseUS
	n.stale = true // the next run's boot id is its own
}

// sameClock is how far the box's clock may be from where it should be to be the one
// of before the node stopped, beside what a clock runs away in the time between.
const sameClock = 500 * time.Millisecond

// recognise decides at the first reading after resume whether the box's clock went
// on, maybe over wraps that nobody saw, or began anew.
func (n *runs) recognise(r Reading) {
	n.resumed = false
	should := r.Arrived.Sub(n.origin) - n.delay.least
	off := should.Microseconds() - r.US - n.base
	away := should - time.Duration(n.seen)*time.Microsecond
	most := (sameClock + time.Duration(worstRate*float64(max(away, 0)))).Microseconds()
	wrap := n.box.follow.us(n.box.follow.whole())
	wraps := (off + wrap/2) / wrap
	if wraps < 0 {
		wraps = 0
	}
	if off -= wraps * wrap; off < -most || off > most {
		n.rebase = true
		return
	}
	n.base += wraps * wrap
}
