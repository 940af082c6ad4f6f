package measure

import "math"

// course is the run's way from its start to its end.
type course struct {
	hasStart, hasEnd bool
	startAt, endAt   int64   // valid if hasStart, hasEnd
	duration         int64   // µs; 0 means none
	targetTurns      float64 // of a race by distance; 0 means none
	targetStep       float64 // the steps from openStep at which it is reached

	opened    bool    // a genuine stamp of the run has come
	openStep  int64   // the step of that stamp
	openAt    int64   // its time
	startPart float64 // turns between the start and it
	startHow  partHow
	startU    float64 // standard uncertainty of startPart in steps, if it was predicted
	startLost bool    // it may be more than one step, of which nothing was seen
	startEven bool    // and every value within its bounds is as likely
	rise      rise    // the first stamps of a run that has none before its start
	early     int64   // steps before the start, of a roller that was turning then

	closed  bool    // the end was passed
	endPart float64 // turns between the last counted stamp and the end
	endHow  partHow
	overdue float64 // the steps beyond one by which the next stamp is late
	endTime float64 // µs, when a race by distance was over
}

// silentSteps is by how many steps a pass may be overdue at the end of a run before
// more is behind it than an uneven speed: the roller stopped, or passes were missed.
const silentSteps = 0.5

// partHow says how the part of a turn at one end was found.
type partHow int

const (
	partNone        partHow = iota // the run ends with a stamp: there is no part
	partBetween                    // interpolated between two stamps
	partPredicted                  // from the speed on the inner side
	partBridged                    // likewise, with missed passes in it
	partCapped                     // the mark was due but did not come
	partUnknown                    // anything from nothing to one step
	partNotComputed                // to be found when the first gaps are known
)

// newCourse returns the course that a setup asks for.
func newCourse(s Setup) course {
	var c course
	if s.Race.StartUS != nil {
		c.hasStart, c.startAt = true, *s.Race.StartUS
	}
	if s.Race.DurationS != nil {
		c.duration = int64(math.Round(*s.Race.DurationS * 1e6))
		if c.hasStart {
			c.hasEnd, c.endAt = true, c.startAt+c.duration
		}
	}
	if s.Race.DistanceM != nil {
		c.targetTurns = *s.Race.DistanceM * 1000 * s.Bench.Factor / s.Bench.CircumferenceMM
	}
	return c
}

// nextEdge is the first time at which something beside counting must be done.
func (c *course) nextEdge() int64 {
	switch {
	case c.hasStart && !c.opened:
		return c.startAt
	case c.hasEnd:
		return c.endAt + 1
	default:
		return never
	}
}

// counts reports whether what happened at a time belongs to the run.
func (c *course) counts(at int64) bool {
	return (!c.hasStart || at >= c.startAt) && (!c.hasEnd || at <= c.endAt)
}

// first takes the very first genuine stamp.
func (t *Tracker) first(at int64) {
	if t.hasStart && at < t.startAt {
		return
	}
	t.opened, t.openStep, t.openAt = true, t.steps, at
	switch {
	case t.hasStart && at > t.endAt && t.hasEnd:
		t.closed = true
	case t.hasStart:
		t.startHow = partNotComputed
		t.rise.begin(float64(at))
	case t.duration > 0:
		t.hasEnd, t.endAt = true, at+t.duration
	}
}

// pass takes the next genuine stamp, n steps after the last one, before these
// are counted. It opens and closes the run.
func (t *Tracker) pass(at int64, n int) {
	mark := t.mark()
	share := t.marks.turns(mark, int64(n)) / float64(max(1, at-t.last)) // turns per µs
	if !t.opened {
		if at < t.startAt {
			return
		}
		t.opened, t.openStep, t.openAt = true, t.steps+int64(n), at
		if n == 1 && float64(at-t.last) > ambiguous*t.pred*t.marks.scale[mark] {
			// It was turned before, but stood still at the start.
			t.startHow = partNotComputed
			t.rise.begin(float64(at))
		} else {
			t.early = t.steps
			t.startPart, t.startHow = share*float64(at-t.startAt), partBetween
		}
	} else if t.startHow == partNotComputed {
		t.rise.add(float64(at), t.marks.spanned(mark, n))
		if t.rise.points == riseSize {
			t.startPart, t.startU, t.startHow = t.startAhead()
			t.allowFast()
		}
	}
	switch {
	case t.hasEnd && at > t.endAt:
		t.closed = true
		if n == 1 && float64(at-t.last) > ambiguous*t.pred*t.marks.scale[mark] {
			t.endPart, t.endHow = t.endAhead(t.endAt)
		} else {
			t.endPart, t.endHow = share*float64(t.endAt-t.last), partBetween
			if n == 1 {
				t.endPart = t.endBetween(at)
			}
		}
	case t.targetTurns > 0:
		t.aim(at, n)
	}
}

// endBetween returns the turns from the last stamp to the end, which comes before the
// next one, at a time. Either of the two may have been held up, which the passes before tell.
func (t *Tracker) endBetween(at int64) float64 {
	took := float64(at - t.last)
	late, gap, ok := t.heldUpLast()
	if took += late; ok && took-gap > heldUpPart*gap && took-gap < heldUpUS {
		took = gap
	}
	return t.marks.part[t.mark()] * min(1, (float64(t.endAt-t.last)+late)/took)
}

// aim closes a race by distance when these n steps reach its end.
func (t *Tracker) aim(at int64, n int) {
	start := t.startPart
	if t.startHow == partNotComputed {
		start, _, _ = t.startAhead()
	}
	t.targetStep = (t.targetTurns - start) * float64(t.marks.count)
	rest := t.targetStep - float64(t.steps-t.openStep)
	if rest > float64(n) {
		return
	}
	part := max(0, min(1, rest/float64(n)))
	t.closed = true
	t.endTime = float64(t.last) + part*float64(at-t.last)
	t.endPart = t.marks.turns(t.mark(), int64(n)) * part
	t.endHow = partBetween
}

// limitSteps is the count from which each stamp may end a race by distance.
func (t *Tracker) limitSteps() int64 {
	if t.targetTurns == 0 || !t.opened {
		return never
	}
	return t.openStep + max(0, int64(t.targetStep)-1)
}

// startAhead returns the turns from the start to the first stamp of a run that
// has no stamp before its start, and their standard uncertainty in steps. They
// are at most one step, unless the rise shows plainly that the roller was
// further: then its first passes were missed.
func (t *Tracker) startAhead() (turns, u float64, how partHow) {
	count := int64(t.marks.count)
	before := (t.firstMark + t.openStep + count - 1) % count
	one := t.marks.part[before]
	w := t.rise.back(float64(t.openAt-t.startAt), riseFloor*math.Sqrt(float64(count)))
	scale := t.marks.scale[before]
	t.startEven, t.startLost = w.even, w.lost
	switch {
	case w.unknown:
		return one / 2, w.u, partUnknown
	case w.missed:
		return one * w.steps / scale, w.u, partBridged
	default:
		return one * min(1, w.steps/scale), w.u, partPredicted
	}
}

// endAhead returns the turns from the last stamp to a time after it by the
// predicted gap, at most one step. A roller that has stopped is somewhere
// between two marks.
func (t *Tracker) endAhead(end int64) (float64, partHow) {
	mark := t.mark()
	one := t.marks.part[mark]
	late, _, _ := t.heldUpLast()
	switch ahead, due := float64(end-t.last)+late, t.pred*t.marks.scale[mark]; {
	case !(t.pred > 0):
		return one / 2, partUnknown
	case ahead <= due:
		return one * max(0, ahead) / due, partPredicted
	case ahead > max(stallGaps*due, stallUS):
		return one / 2, partUnknown
	default:
		t.overdue = ahead/due - 1
		if t.overdue > silentSteps {
			t.belowSteps, t.aboveSteps = t.belowSteps+1, t.aboveSteps+t.overdue
		}
		return one, partCapped
	}
}
