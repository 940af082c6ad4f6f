package measure

import "math"

const (
	// crossSteps and crossUS bound what a gap may hold to be filled in from both of
	// its sides: rows of 20 missed passes, and the burst of a remote control.
	crossSteps = 48
	crossUS    = 400_000
	// crossSure is the variance of the steps above which unequal marks are asked, too.
	crossSure = 0.05
	// crossLockUS bounds the lock-out beyond a gap.
	crossLockUS = 30_000
	// crossWidest is the largest standard uncertainty, in steps, of a gap that is
	// filled in: beyond it the number of its passes is a guess.
	crossWidest = 1.5
	// speedUp is the least time constant in µs of a roller that gains speed (the
	// lightest: engineering judgement).
	speedUp = 200_000
)

// crossing is the way over a gap in which no pass could be told.
type crossing struct {
	steps    int64
	variance float64 // of the steps
}

// cross counts the passes of a gap from how the roller moved on both sides: the
// integral of the cubic that has the speeds and the accelerations of both at its
// ends (Hermite's interpolation of the speed), rounded to a whole number. The
// variance is that of the whole numbers weighed by how well they fit. It is false
// where the gap is too long, or the speeds are too far apart, to tell.
func (t *Tracker) cross(from, to pace) (crossing, bool) {
	gap := float64(to.at - from.at)
	if !(from.speed > 0) || !(to.speed > 0) || gap <= 0 {
		return crossing{}, false
	}
	bend := gap * gap * (from.accel - to.accel) / 12
	way := gap*(from.speed+to.speed)/2 + bend + from.phase - to.phase
	if way > crossSteps && gap > crossUS {
		return crossing{}, false
	}
	mean := (from.speed + to.speed) / 2
	u := math.Hypot(t.drift.over(gap)*mean, 0.5*bend)
	u = math.Hypot(u, gap/2*math.Hypot(from.uSpeed, to.uSpeed))
	u = math.Hypot(u, math.Hypot(from.uPhase, to.uPhase))
	unlike := 0.06 // of what the speeds differ by: how wrong the cubic may be
	if from.accel == 0 || to.accel == 0 {
		unlike = 0.15 // it knows too little of how the speed changed
	}
	u = math.Hypot(u, unlike*math.Abs(to.speed-from.speed)*gap)
	u = math.Hypot(u, 0.02)
	if u > crossWidest {
		return crossing{}, false
	}
	best := int64(max(1, math.Round(way)))
	var sum, square float64
	for k := max(1, best-6); k <= best+6; k++ {
		z := (way - float64(k)) / u
		weight := math.Exp(-z * z / 2)
		sum += weight
		square += weight * float64((k-best)*(k-best))
	}
	c := crossing{steps: best}
	if sum > 0 {
		c.variance = square / sum
	}
	return c, true
}

// believable reports whether a roller can have come from one pace to another: it
// may brake at any rate, but gains speed no quicker than a light roller does, and
// hardly more than it has shown when it has run for a while. After a second it may
// be anything.
func (t *Tracker) believable(from, to pace) bool {
	const quick, settled = 25_000 / 60e6, 200 // turns a µs; steps
	gap := float64(to.at - from.at)
	if to.speed <= 1.3*from.speed || gap > 1e6 {
		return true
	}
	if top := 1 / t.window.shortest(); t.steps > settled && to.speed > 1.3*top {
		return false
	}
	return to.speed <= from.speed+gap/speedUp*quick*float64(t.marks.count)
}

// lose gives up the prediction at a stamp that comes after a gap which holds no
// whole number of passes by it: more stamps must tell how the roller moves now, and
// then both sides tell what the gap holds.
func (t *Tracker) lose(at int64) {
	if t.steps-t.window.begun < 2 {
		t.seekFrom(t.last) // hardly anything is known of the side before
		t.gather(at)
		return
	}
	from := t.pace()
	t.seek()
	t.from, t.crossing = from, true
	t.gather(at)
}

// crossTo counts the way to the first pass of the path that a search has found
// beyond a gap.
func (t *Tracker) crossTo(stamps []int64, s *search) {
	first := s.path[0]
	at := stamps[first.stamp]
	t.crossing = false
	c, ok := t.cross(t.from, s.pace(stamps, &t.marks))
	n := 1
	if ok {
		// Unequal marks are asked only where the speeds leave doubt.
		if n = int(c.steps); c.variance > crossSure {
			n = t.fitting(n, first.mark)
		}
	} else {
		// Too far, or too unlike, to tell: one pass is counted, and no interval can be stated any more.
		t.open(at)
		t.unbounded = t.unbounded || t.opened
	}
	for i := 1; i < n; i++ {
		if missed := t.between(at, i, n); t.counts(missed) {
			t.notes.noteBridged(missed)
		}
	}
	if n > bridgeMost && t.counts(at) {
		t.rowsFilled++
	}
	t.lostSquares += c.variance
	waited := !t.opened
	if t.pass(at, n); t.closed {
		return
	}
	// Not by advance, whose window takes passes one by one: nobody knows how the speed went inside
	// the gap, so the window begins anew behind it.
	t.steps += int64(n)
	t.last = at
	t.edge = t.nextEdge()
	// What the roller did before the start is no top speed.
	if waited && t.opened {
		t.window.forget()
	}
	t.window.restart(t.steps, at)
}

// fitting returns the number of steps next to n that leads from the last mark to
// the given one, where unequal marks tell them apart.
func (t *Tracker) fitting(n int, mark int64) int {
	if t.marks.even {
		return n
	}
	count := t.marks.count
	off := (int(mark-t.mark()) - n) % count
	if off < 0 {
		off += count
	}
	if off > count/2 && n+off-count >= 1 {
		off -= count
	}
	return n + off
}

// pace returns how the roller moves at the first pass of the path.
func (s *search) pace(stamps []int64, m *marks) pace {
	var p points
	first := stamps[s.path[0].stamp]
	steps := 0.0
	p.add(0, 0)
	for i := 1; i <= s.length; i++ {
		steps += m.spanned(s.path[i-1].mark, s.path[i].passes)
		time := float64(stamps[s.path[i].stamp] - first)
		if i > paceLeast && time > paceUS {
			break
		}
		p.add(time, steps)
	}
	out := p.fit(first)
	if p.n < 4 && p.n > 1 {
		out.phase, out.uPhase, out.uSpeed = 0, 0.02, 0.03*out.speed
	}
	return out
}
