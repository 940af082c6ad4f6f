package measure

import "math"

// Limits of the judgement, in parts of the predicted gap unless said otherwise.
const (
	lockOut     = 0.40 // earlier than this is an extra stamp
	near        = 0.12 // within this of the prediction needs no second thought
	bridgeSlack = 0.25 // a long gap must be this near to a whole number of gaps
	bridgeMost  = 5    // and hold no more than this many

	// unknownLockUS is the lock-out while no speed is known: half the shortest
	// believable turn, 3 ms at 20,000 rpm (common practice).
	unknownLockUS = 1500
	// lostAfterUS and five predicted gaps without a stamp lose the prediction.
	lostAfterUS = 500_000
	// stoodStillUS is a gap in which a roller whose speed is unknown stood still.
	stoodStillUS = 2_000_000
	// blockSteps is how often the slower bookkeeping is done.
	blockSteps = 32
	never      = math.MaxInt64
)

// Tracker measures one run, a stamp at a time. It holds about 6 kB and a list of
// corrections of at most 128 kB; Add does not allocate but to grow that list.
// A Tracker is for one goroutine. Make one with New.
type Tracker struct {
	// What every stamp touches comes first, to lie together in memory.

	offset   int64   // added to a stamp to undo the wraps of the clock
	last     int64   // the last genuine stamp, unwrapped
	edge     int64   // from this time on a stamp needs judge
	steps    int64   // passes since the first genuine stamp
	stepEdge int64   // from this count on a stamp needs judge
	pred     float64 // the predicted next gap, µs
	trend    float64 // smoothed change of the gap from pass to pass
	slow     bool    // every stamp needs judge
	gains    gains
	noise    float64 // sum of squared surprises, µs²
	window

	setup  Setup
	clock  clock
	marks  marks
	stated marks // as the setup has them
	lesson lesson
	notes  corrections

	acquisition        // the stamps of which no speed is known yet
	from          pace // how the roller moved before the gap that is being crossed
	crossing      bool // the search is for the far side of a gap
	drift         drift
	crowd         int // stamps left out at step crowdStep
	crowdStep     int64
	held          int64 // a stamp that came early and waits for the next one
	holding       bool
	heldLate      bool    // it came late rather than early
	heldPasses    int     // and seems to be so many passes after the last; 0 is not known
	oddStep       int64   // the step after the last irregular gap
	oddLate       bool    // and whether that one was long
	oddDue        float64 // where the stamp after that gap was due
	lastExtra     int64   // the last stamp that was left out
	foundStep     int64   // the step at which the speed was found
	searchedAgain bool
	rebase        bool // the next stamp comes from a clock that has begun anew
	quickBlocks   int  // blocks that still follow quickly
	schedule      schedule

	course
	faults
}

// New returns a Tracker for a run on the given bench, or an error that names
// the field of the setup that is wrong.
func New(setup Setup) (*Tracker, error) {
	complete, err := setup.complete()
	if err != nil {
		return nil, err
	}
	t := &Tracker{setup: complete, stated: newMarks(complete.Bench)}
	t.Reset()
	return t, nil
}

// Reset makes the tracker ready for another run on the same setup. It keeps
// the memory of the list of corrections.
func (t *Tracker) Reset() {
	notes := t.notes
	notes.reset()
	*t = Tracker{setup: t.setup, clock: newClock(t.setup.Bench), marks: t.stated, stated: t.stated, notes: notes}
	t.course = newCourse(t.setup)
	t.edge = t.nextEdge()
	t.window.marks = int64(t.marks.count)
	t.lesson.on = len(t.setup.Bench.MarkAngles) == 0 && t.marks.count > 1 && t.marks.count <= lessonMarks
	t.seek()
}

// Add takes the next stamp, in µs as the bench sends it. Stamps come in the
// order in which the bench made them; any number is accepted, and one that
// cannot be genuine is left out and noted.
func (t *Tracker) Add(stamp int64) {
	one := [1]int64{stamp}
	t.AddAll(one[:])
}

// AddAll takes some stamps: the same as Add for each, but quicker.
func (t *Tracker) AddAll(stamps []int64) {
	for len(stamps) > 0 {
		n := 0
		if t.marks.even {
			n = t.regular(stamps)
		} else {
			n = t.regularUneven(stamps)
		}
		if n == len(stamps) {
			return
		}
		t.judge(stamps[n])
		stamps = stamps[n+1:]
	}
}

// regular takes the stamps that are plainly regular and returns how many these
// are. What it does to a stamp is what advance and follow do; here it stands
// in one loop, because a season of traces goes through it.
func (t *Tracker) regular(stamps []int64) int {
	most := min(int64(len(stamps)), t.stepEdge-t.steps)
	if t.slow || most <= 0 {
		return 0
	}
	// Kept in local variables, which the compiler can hold in registers, and written back once.
	w := &t.window
	last, pred, trend, noise := t.last, t.pred, t.trend, t.noise
	step, quad, fastest := t.steps, w.quad, w.fastest
	offset, edge, g, span, from := t.offset, t.edge, t.gains, w.span, w.from
	for _, stamp := range stamps[:most] {
		at := stamp + offset
		gap := float64(at - last)
		surprise := gap - pred
		// The first that is not plainly regular is left to judge, with all behind it.
		if most := near * pred; surprise > most || surprise < -most || at >= edge {
			break
		}
		last = at
		noise += surprise * surprise
		pred = (g.gap*gap + trend) + g.pred*pred
		trend += g.trend * surprise
		step++
		// What window.push does, with the same order of operations.
		quad += at - w.times[(step-4)&ringMask]
		w.times[step&ringMask] = at
		w.quads[step&ringMask] = quad
		if took := quad - w.quads[(step-span)&ringMask]; took < fastest && step >= from {
			fastest = took
		}
	}
	n := int(step - t.steps)
	t.last, t.pred, t.trend, t.noise = last, pred, trend, noise
	t.steps, w.quad, w.fastest = step, quad, fastest
	return n
}

// regularUneven is regular for marks that do not stand evenly: each gap is measured
// by what it should be from its mark to the next.
func (t *Tracker) regularUneven(stamps []int64) int {
	most := min(int64(len(stamps)), t.stepEdge-t.steps)
	if t.slow || most <= 0 {
		return 0
	}
	w, mark := &t.window, int(t.mark())
	n := 0
	for _, stamp := range stamps[:most] {
		at := stamp + t.offset
		gap := float64(at-t.last) * t.marks.per[mark]
		surprise := gap - t.pred
		if most := near * t.pred; surprise > most || surprise < -most || at >= t.edge {
			break
		}
		t.last = at
		t.noise += surprise * surprise
		t.pred = (t.gains.gap*gap + t.trend) + t.gains.pred*t.pred
		t.trend += t.gains.trend * surprise
		t.steps++
		w.push(t.steps, at)
		if mark++; mark == t.marks.count {
			mark = 0
		}
		n++
	}
	return n
}

// gains say how quickly the prediction follows a surprise. The next prediction
// is gap*(the gap) + pred*(the last prediction) + the trend before.
type gains struct {
	gap, pred, trend float64
}

// newGains returns the gains for a level and a trend that are corrected by these
// parts of each surprise.
func newGains(level, trend float64) gains {
	return gains{gap: level + trend, pred: 1 - level - trend, trend: trend}
}

// Following quickly is for a roller that has just begun to turn.
var quickGains, calmGains = newGains(0.5, 0.25), newGains(0.25, 0.05)
