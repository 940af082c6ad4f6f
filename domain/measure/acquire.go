package measure

import "math"

const (
	// seekSize is how many stamps are judged together while no speed is known.
	seekSize = 10
	// seekMost is the largest number of gaps that one stretch may hold then.
	seekMost = 3

	seekCostExtra = 0.4 // of leaving a stamp out
	seekCostFirst = 1.2 // of leaving out the first one: a start from rest has a long first gap
	seekCostMiss  = 1.0 // of filling a pass in
	seekWorst     = 0.8 // mean cost a step above which there is no order in the stamps
)

// acquisition holds the stamps that have come while no speed is known.
type acquisition struct {
	seeking   bool
	waiting   [seekSize]int64
	waits     int
	anchored  bool // the first of them is counted already
	firstMark int64
}

// seek begins a search from nothing.
func (t *Tracker) seek() {
	t.seeking, t.waits, t.anchored = true, 0, false
	t.tol = -1
}

// seekFrom begins a search at a stamp that is counted already.
func (t *Tracker) seekFrom(at int64) {
	t.seek()
	t.waiting[0], t.waits, t.anchored = at, 1, true
}

// gather takes a stamp while no speed is known, and settles when enough are there.
func (t *Tracker) gather(at int64) {
	lock := unknownLockUS * t.marks.smallest() / float64(t.marks.count)
	if t.waits > 0 && float64(at-t.waiting[t.waits-1]) < lock {
		t.leaveOut(at)
		return
	}
	t.waiting[t.waits] = at
	t.waits++
	if t.waits == seekSize {
		t.settle(false)
	}
}

// settle finds the most likely reading of the waiting stamps and counts it. If
// even that is without order and the run goes on, the oldest stamp is dropped
// instead.
func (t *Tracker) settle(final bool) {
	var s search
	s.run(t.waiting[:t.waits], t.marks)
	if s.length == 0 {
		return
	}
	if !final && s.cost > seekWorst*float64(s.length) {
		drop := 0
		if t.anchored {
			drop = 1 // the anchor is counted already and stays
		}
		t.disorder++
		t.leaveOut(t.waiting[drop])
		copy(t.waiting[drop:], t.waiting[drop+1:t.waits])
		t.waits--
		return
	}
	stamps := t.waiting // a copy, as the remaining ones are judged again below
	n := t.waits
	t.seeking = false
	t.begin(stamps[:n], &s)
	end := s.path[s.length].stamp
	t.waits, t.anchored = 0, false
	for _, at := range stamps[end+1 : n] {
		if t.closed {
			return
		}
		if t.holding {
			t.resolve(at)
		} else {
			t.consider(at)
		}
	}
}

// begin counts the path that the search found.
func (t *Tracker) begin(stamps []int64, s *search) {
	first := s.path[0]
	var gaps [2]float64 // the last two
	for i := 1; i <= s.length; i++ {
		from, to := s.path[i-1], s.path[i]
		gaps[0], gaps[1] = gaps[1], float64(stamps[to.stamp]-stamps[from.stamp])/t.marks.spanned(from.mark, to.passes)
	}
	gap := gaps[1]
	t.level, t.trend = gap, 0
	if s.length > 1 {
		t.trend = max(-0.3*gap, min(0.3*gap, nextGap(gaps[0], gaps[1])-gap))
	}
	t.pred = max(t.level+t.trend, t.level/3)
	t.window.choose(t.level)
	t.quicken()
	switch {
	case !t.anchored:
		for i := range first.stamp {
			t.leaveOut(stamps[i])
		}
		t.last = stamps[first.stamp]
		t.first(t.last)
		t.window.restart(t.steps, t.last)
	case first.stamp > 0:
		for i := 1; i < first.stamp; i++ {
			t.leaveOut(stamps[i])
		}
		t.advance(stamps[first.stamp], 1)
		t.window.restart(t.steps, t.last)
	}
	t.firstMark = first.mark - t.steps
	for t.firstMark < 0 {
		t.firstMark += int64(t.marks.count) * (1 + -t.firstMark/int64(t.marks.count))
	}
	for i := 1; i <= s.length && !t.closed; i++ {
		for k := s.path[i-1].stamp + 1; k < s.path[i].stamp; k++ {
			t.leaveOut(stamps[k])
		}
		t.bridge(stamps[s.path[i].stamp], s.path[i].passes)
	}
	t.edge = t.nextEdge()
	t.stepEdge = t.steps
	t.allowFast()
}

// nextGap predicts a gap from the last two for a roller under constant
// acceleration: with w turns a second now and a turns a second squared, the
// next turn takes 2 / (w + sqrt(w^2 + 2a)).
func nextGap(before, last float64) float64 {
	accel := (1/last - 1/before) / ((before + last) / 2)
	speed := 1/last + accel*last/2
	if speed <= 0 || speed*speed+2*accel <= 0 {
		return 2 * last // it stops before the next pass
	}
	return 2 / (speed + math.Sqrt(speed*speed+2*accel))
}

// node is a stamp of a path, with the mark that it belongs to and the passes
// since the node before.
type node struct {
	stamp  int
	mark   int64
	passes int
}

// search finds the cheapest reading of a few stamps: which are genuine, how many
// passes each gap holds and, for unequal marks, which mark came first. The cost
// of a reading is the sum over neighbouring gaps of the absolute logarithm of
// the ratio of their speeds, plus a price for each stamp left out and each pass
// filled in. Dynamic programming over the last gap: n^3 times 9 steps for n
// stamps, times the number of marks where these are unequal.
type search struct {
	cost   float64
	length int // gaps in the path
	path   [seekSize]node
}

// edge is the cheapest reading that ends with the gap between two stamps.
type seekEdge struct {
	cost float64
	prev int8 // stamp at which the gap before begins; -1 for none
	n    int8 // passes in the gap before
}

// run fills in the cheapest reading of two or more stamps in ascending order.
func (s *search) run(stamps []int64, m marks) {
	s.length, s.cost = 0, math.Inf(1)
	rotations := 1
	if !m.even {
		rotations = m.count
	}
	for first := range rotations {
		s.try(stamps, m, int64(first))
	}
}

// try searches with the first stamp on a given mark.
func (s *search) try(stamps []int64, m marks, first int64) {
	// With unequal marks the mark at a stamp depends on the passes before it, so
	// the state would need it too. Here it is fixed by the passes of the path
	// that is kept, which finds the right reading wherever the kept paths agree.
	var (
		best   [seekSize][seekSize][seekMost + 1]seekEdge
		markAt [seekSize][seekSize][seekMost + 1]int64 // at the end of the edge
		speed  [seekSize][seekSize][seekMost + 1]float64
	)
	count := int64(m.count)
	n := len(stamps)
	for j := 1; j < n; j++ {
		for i := range j {
			logGap := math.Log(float64(max(1, stamps[j]-stamps[i])))
			for p := 1; p <= seekMost; p++ {
				own := float64(j-i-1)*seekCostExtra + float64(p-1)*seekCostMiss
				e := seekEdge{cost: float64(i)*seekCostFirst + own, prev: -1}
				from := first
				w := math.Log(m.spanned(from, p)) - logGap
				for h := range i {
					for q := 1; q <= seekMost; q++ {
						mark := markAt[h][i][q]
						v := w
						if !m.even {
							v = math.Log(m.spanned(mark, p)) - logGap
						}
						c := best[h][i][q].cost + own + math.Abs(v-speed[h][i][q])
						if c < e.cost {
							e = seekEdge{c, int8(h), int8(q)}
							from = mark
						}
					}
				}
				best[i][j][p] = e
				markAt[i][j][p] = (from + int64(p)) % count
				speed[i][j][p] = math.Log(m.spanned(from, p)) - logGap
			}
		}
	}
	// The last stamp may be the one that is wrong: the path may end one before.
	for j := max(1, n-2); j < n; j++ {
		for i := range j {
			for p := 1; p <= seekMost; p++ {
				c := best[i][j][p].cost + float64(n-1-j)*seekCostExtra
				if c < s.cost {
					s.cost = c
					s.trace(&best, i, j, p, first, count)
				}
			}
		}
	}
}

// trace writes the path that ends with the given edge.
func (s *search) trace(best *[seekSize][seekSize][seekMost + 1]seekEdge, i, j, p int, first, count int64) {
	var back [seekSize]node
	k := 0
	for i >= 0 {
		back[k] = node{stamp: j, passes: p}
		k++
		e := best[i][j][p]
		j, i, p = i, int(e.prev), int(e.n)
	}
	s.length = k
	s.path[0] = node{stamp: j, mark: first}
	mark := first
	for x := 1; x <= k; x++ {
		s.path[x] = back[k-x]
		mark = (mark + int64(s.path[x].passes)) % count
		s.path[x].mark = mark
	}
}
