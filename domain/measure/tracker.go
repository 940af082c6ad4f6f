package measure

import "math"

// Limits of the judgement, in parts of the predicted gap unless said otherwise.
const (
	lockOut     = 0.40 // earlier than this is an extra stamp
	regular     = 0.12 // within this of the prediction needs no second thought
	bridgeSlack = 0.25 // a long gap must be this near to a whole number of gaps
	bridgeMost  = 5    // and hold no more than this many

	// unknownLockUS is the lock-out while no speed is known: half the shortest
	// believable turn, 3 ms at 20,000 rpm (common practice).
	unknownLockUS = 1500
	// lostAfterUS and five predicted gaps without a stamp lose the prediction.
	lostAfterUS = 500_000
	// mostStamp is the largest stamp that is taken for one: 2^53 µs, 285 years.
	mostStamp = 1 << 53
	// blockSteps is how often the slower bookkeeping is done.
	blockSteps = 32
	never      = math.MaxInt64
)

// Tracker measures one run, a stamp at a time. It holds about 6 kB and a list of
// corrections of at most 128 kB; Add does not allocate but to grow that list.
// A Tracker is for one goroutine. Make one with New.
type Tracker struct {
	// What every stamp touches comes first, to lie together in memory.

	offset    int64   // added to a stamp to undo the wraps of the clock
	last      int64   // the last genuine stamp, unwrapped
	edge      int64   // from this time on a stamp needs the slow path
	steps     int64   // passes since the first genuine stamp
	stepEdge  int64   // from this count on a stamp needs the slow path
	pred      float64 // the predicted next gap, µs
	tol       float64 // how far from it is regular; negative forbids the fast path
	level     float64 // smoothed gap
	trend     float64 // smoothed change of the gap from pass to pass
	gainLevel float64
	gainTrend float64
	noise     float64 // sum of squared surprises, µs²
	window

	setup Setup
	clock clock
	marks marks
	notes corrections

	acquisition          // the stamps of which no speed is known yet
	held           int64 // a stamp that came early and waits for the next one
	holding        bool
	oddStep        int64 // the step after the last irregular gap
	oddLate        bool  // and whether that one was long
	lastOpen       int64 // the step after the last open gap
	opens          int   // open gaps in a row
	highGainBlocks int   // blocks that still follow quickly

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
	t := &Tracker{setup: complete, clock: newClock(complete.Bench), marks: newMarks(complete.Bench)}
	t.Reset()
	return t, nil
}

// Reset makes the tracker ready for another run on the same setup. It keeps
// the memory of the list of corrections.
func (t *Tracker) Reset() {
	notes := t.notes
	notes.reset()
	*t = Tracker{setup: t.setup, clock: newClock(t.setup.Bench), marks: t.marks, notes: notes}
	t.course = newCourse(t.setup)
	t.edge = t.nextEdge()
	t.window.marks = int64(t.marks.count)
	t.seek()
}

// Add takes the next stamp, in µs as the bench sends it. Stamps come in the
// order in which the bench made them; any number is accepted, and one that
// cannot be genuine is left out and noted.
func (t *Tracker) Add(stamp int64) {
	at := stamp + t.offset
	surprise := float64(at-t.last) - t.pred
	if math.Abs(surprise) > t.tol || at >= t.edge || t.steps >= t.stepEdge {
		t.judge(stamp)
		return
	}
	// A regular stamp; advance does the same for all others.
	t.last = at
	t.steps++
	t.noise += surprise * surprise
	t.level = t.pred + t.gainLevel*surprise
	t.trend += t.gainTrend * surprise
	t.pred = t.level + t.trend
	t.tol = regular * t.pred
	t.window.push(t.steps, at)
}

// AddAll takes a train of stamps.
func (t *Tracker) AddAll(stamps []int64) {
	for _, stamp := range stamps {
		t.Add(stamp)
	}
}

// Measure measures a whole train of stamps: it is New, Add for each stamp and
// Finish at the last one. The error names what is wrong with the setup; no
// train of stamps is an error.
func Measure(setup Setup, stamps []int64) (Measurement, error) {
	t, err := New(setup)
	if err != nil {
		return Measurement{}, err
	}
	t.AddAll(stamps)
	return t.Finish(NoEnd), nil
}
