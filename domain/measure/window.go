package measure

import "math"

const (
	ringSize = 256
	ringMask = ringSize - 1
	// windowTurns and windowUS are the least that a top speed rests on.
	windowTurns = 5
	windowUS    = 50_000
	// windowMost leaves room in the ring for the mean of four at the far end.
	windowMost = ringSize - 16
)

// window finds the top speed. It compares the mean of the last four stamps with
// the mean of four stamps a whole number of turns before, so that neither a
// late stamp nor unequal marks make a top speed. It remembers the shortest time
// that any such window took.
type window struct {
	span    int64 // steps in the window now
	from    int64 // the first step at which a window is complete
	quad    int64 // the sum of the last four stamps
	fastest int64 // the least growth of quad over span steps
	begun   int64 // the step at which the ring begins
	marks   int64
	turns   int64   // that a window may have at most; 0 until it is first asked
	best    float64 // the least gap, µs a step, of spans that are past
	times   [ringSize]int64
	quads   [ringSize]int64
}

// restart forgets the ring: the next window begins with this step.
func (w *window) restart(step, at int64) {
	w.bank()
	w.begun = step
	for i := range int64(4) {
		w.times[(step-i)&ringMask] = at
	}
	w.quad = 4 * at
	w.quads[step&ringMask] = w.quad
	w.from = step + w.span + 3
}

// forget drops the best so far.
func (w *window) forget() {
	w.best, w.fastest = 0, math.MaxInt64
}

// push takes the time of a step; steps come one by one.
func (w *window) push(step, at int64) {
	w.quad += at - w.times[(step-4)&ringMask]
	w.times[step&ringMask] = at
	w.quads[step&ringMask] = w.quad
	if step >= w.from {
		took := w.quad - w.quads[(step-w.span)&ringMask]
		if took < w.fastest {
			w.fastest = took
		}
	}
}

// choose sets the length of the window for the present gap in µs.
func (w *window) choose(gap float64) {
	turns := int64(windowTurns)
	if gap > 0 {
		turns = max(turns, int64(math.Ceil(windowUS/(gap*float64(w.marks)))))
	}
	if w.turns == 0 {
		w.turns = max(windowTurns, windowMost/w.marks)
	}
	span := min(turns, w.turns) * w.marks
	if span == w.span {
		return
	}
	w.bank()
	w.span = span
	w.from = w.begun + span + 3
	w.fastest = math.MaxInt64
	if w.best > 0 {
		w.fastest = int64(w.best * 4 * float64(span))
	}
}

// bank keeps the best of the present span before it changes.
func (w *window) bank() {
	if w.span > 0 && w.fastest < math.MaxInt64 {
		w.best = float64(w.fastest) / 4 / float64(w.span)
	}
}

// shortest returns the least mean gap so far in µs, or infinity.
func (w *window) shortest() float64 {
	least := math.Inf(1)
	if w.best > 0 {
		least = w.best
	}
	if w.span > 0 && w.fastest < math.MaxInt64 {
		least = min(least, float64(w.fastest)/4/float64(w.span))
	}
	return least
}

// top returns the least gap of any window in µs a step, or 0 when no window
// was complete. A run too short for it falls back on its last five turns.
func (w *window) top(step int64) float64 {
	w.bank()
	if w.best > 0 {
		return w.best
	}
	if n := windowTurns * w.marks; step-w.begun >= n {
		return float64(w.times[step&ringMask]-w.times[(step-n)&ringMask]) / float64(n)
	}
	return 0
}

// recent returns the gap in µs a step over the last steps, and the time that
// these took: whole turns that cover about spanUS where there are so many. The
// gap is 0 while there is none.
func (w *window) recent(step int64, gap, spanUS float64) (each float64, took int64) {
	have := min(step-w.begun, windowMost)
	n := w.marks
	if gap > 0 {
		n = max(n, int64(spanUS/gap)/w.marks*w.marks)
	}
	n = min(n, have)
	if n > w.marks {
		n = n / w.marks * w.marks
	}
	if n <= 0 {
		return 0, 0
	}
	took = w.times[step&ringMask] - w.times[(step-n)&ringMask]
	return float64(took) / float64(n), took
}
