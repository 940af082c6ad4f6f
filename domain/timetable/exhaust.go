package timetable

import (
	"cmp"
	"slices"
)

// mostExhausted is up to how many activities a day is searched through as a whole: of
// larger ones too little is seen in any time that somebody waits. A set of them is one word.
const mostExhausted = 40

// exhaust searches all plans that end by a length, but those that it can show to be no
// better than others. It goes through the day from its start: at each instant something
// that can start does, or is held back until the next thing ends. What is held back is
// held for something that comes in its way; where nothing did, the plan is left
// (E. L. Demeulemeester and W. S. Herroelen, "A branch-and-bound procedure for the
// multiple resource-constrained project scheduling problem", 1992). Of two ways to the
// same set of started activities, one that is never behind the other speaks for both (their
// rule of cutsets). Windows that contradict one another end a way too ([windows]).
type exhaust struct {
	m     *model
	pairs []pair
	// length is what plans are looked for that end by it; nodes how many instants may
	// still be looked at.
	length, nodes int
	stop          func() bool
	used          []profile
	start         []int // -1 while not started
	order         []int // by urgency: what to start first
	begun         uint64
	seen          map[uint64][]way
	found         []int
	room          windows // memory of fits
	ends          []int   // and of behind
}

// way is how a set of activities was started: by when, and when each ends.
type way struct {
	at   int
	ends []int
}

func newExhaust(m *model, length, nodes int, stop func() bool) *exhaust {
	x := &exhaust{
		m: m, pairs: m.pairs(), length: length, nodes: nodes, stop: stop,
		start: make([]int, m.n), seen: map[uint64][]way{}, used: make([]profile, len(m.supply)), ends: make([]int, m.n),
	}
	x.room = windows{m: m, early: make([]int, m.n), late: make([]int, m.n)}
	for r := range x.used {
		x.used[r].copyFrom(&m.supply[r])
	}
	for i := range x.start {
		x.start[i] = -1
		if m.fixed[i] >= 0 {
			x.put(i, m.fixed[i])
		}
		x.order = append(x.order, i)
	}
	slices.SortStableFunc(x.order, func(i, j int) int {
		return cmp.Compare(m.tail[j]+m.dur[j], m.tail[i]+m.dur[i])
	})
	return x
}

// run says whether there is a plan, whose starts are found then; known is whether that
// is sure: the nodes were enough.
func (x *exhaust) run() (is, known bool) {
	for i, t := range x.start { // what is fixed
		if t >= 0 && t+x.m.dur[i]+x.m.tail[i] > x.length {
			return false, true
		}
	}
	x.from(0, 0, true)
	return x.found != nil, x.found != nil || x.nodes > 0
}

func (x *exhaust) put(i, t int) {
	x.start[i] = t
	x.begun |= 1 << i
	for _, u := range x.m.needs[i] {
		x.used[u.res].take(t, t+x.m.dur[i], u.n)
	}
}

func (x *exhaust) back(i int) {
	for _, u := range x.m.needs[i] {
		x.used[u.res].take(x.start[i], x.start[i]+x.m.dur[i], -u.n)
	}
	x.start[i] = -1
	x.begun &^= 1 << i
}

// first is the earliest start of an activity beside those that have started, all that it
// waits for among them; never where one is not.
func (x *exhaust) first(i int) int {
	m := x.m
	t := m.head[i]
	for _, p := range m.pred[i] {
		if x.start[p.to] < 0 {
			return never
		}
		t = max(t, x.start[p.to]+m.dur[p.to]+p.lag)
	}
	for again := true; again; {
		again = false
		for _, u := range m.needs[i] {
			if at := x.used[u.res].earliest(t, m.dur[i], u.n); at > t {
				t, again = at, true
			}
		}
		for _, e := range m.ents[i] {
			for _, j := range m.of[e] {
				if j == i || x.start[j] < 0 {
					continue
				}
				if end := x.start[j] + m.dur[j] + m.rest[e]; t < end && x.start[j] < t+m.dur[i]+m.rest[e] {
					t, again = end, true
				}
			}
		}
		if t >= never {
			return never
		}
	}
	return t
}

// from goes on at an instant, with what is held back at it; fresh says that something was
// started since the instant before.
func (x *exhaust) from(t int, held uint64, fresh bool) {
	if x.begun == 1<<x.m.n-1 {
		x.found = slices.Clone(x.start)
		return
	}
	next := -1
	for _, i := range x.order {
		if (x.begun|held)&(1<<i) == 0 && x.first(i) == t {
			next = i
			break
		}
	}
	if next < 0 {
		x.advance(t, fresh)
		return
	}
	x.put(next, t)
	if t+x.m.dur[next]+x.m.tail[next] <= x.length && t+x.m.dur[next] <= x.m.late[next] {
		x.from(t, held, true)
	}
	x.back(next)
	if x.m.dur[next] > 0 && x.found == nil && x.nodes > 0 {
		x.from(t, held|1<<next, fresh)
	}
}

// advance goes to the next instant at which something may start.
func (x *exhaust) advance(t int, fresh bool) {
	if x.nodes--; x.nodes <= 0 || x.nodes%256 == 0 && x.stop != nil && x.stop() {
		x.nodes = 0
		return
	}
	m := x.m
	next := never
	see := func(at int) {
		if at > t {
			next = min(next, at)
		}
	}
	for i, s := range x.start {
		if s >= 0 {
			end := s + m.dur[i]
			see(end)
			for _, arc := range m.succ[i] {
				see(end + arc.lag)
			}
			for _, e := range m.ents[i] {
				see(end + m.rest[e])
			}
			continue
		}
		see(m.head[i])
	}
	for r := range m.supply {
		for _, at := range m.supply[r].at {
			see(at)
		}
	}
	if next >= never {
		return
	}
	for i, s := range x.start {
		if s >= 0 {
			continue
		}
		// Whatever starts from now on starts at next or later: what would have run by then
		// without touching it has no reason to wait.
		if at := x.first(i); at < next && at+x.clear(i) <= next {
			return
		}
	}
	if !x.fits(next) || fresh && x.behind(next) {
		return
	}
	x.from(next, 0, false)
}

// clear is for how long an activity is in the way of others: it runs, and whom it shares
// an entry with has to rest.
func (x *exhaust) clear(i int) int {
	d := x.m.dur[i]
	for _, e := range x.m.ents[i] {
		d = max(d, x.m.dur[i]+x.m.rest[e])
	}
	return d
}

// fits says whether windows leave room where nothing more starts before an instant.
func (x *exhaust) fits(t int) bool {
	m := x.m
	w := &x.room
	for _, i := range m.topo {
		if s := x.start[i]; s >= 0 {
			w.early[i], w.late[i] = s, s+m.dur[i]
			continue
		}
		w.early[i], w.late[i] = max(m.head[i], t), min(m.late[i], x.length-m.tail[i])
	}
	return !w.contradict(x.pairs, 4)
}

// behind says whether another way started the same activities and is nowhere behind this
// one; otherwise this way is kept.
func (x *exhaust) behind(t int) bool {
	ends := x.ends
	for i, s := range x.start {
		if ends[i] = 0; s >= 0 {
			ends[i] = s + x.m.dur[i]
			if ends[i]+x.clear(i)-x.m.dur[i] <= t {
				ends[i] = 0
			}
		}
	}
	for _, other := range x.seen[x.begun] {
		if other.at <= t && !slices.ContainsFunc(x.order, func(i int) bool { return other.ends[i] > max(ends[i], t) }) {
			return true
		}
	}
	x.seen[x.begun] = append(x.seen[x.begun], way{t, slices.Clone(ends)})
	return false
}

// exhaust looks for a shorter plan than the best among all, and raises the bound to the
// best where there is none. An instant of that costs about as much as a round.
func (s *search) exhaust(nodes int) {
	if s.o.Rounds > 0 {
		nodes = min(nodes, s.o.Rounds-s.rounds)
	}
	for nodes > 0 && !s.done() && s.best.cost.late == 0 {
		x := newExhaust(s.m, s.best.cost.length-1, nodes, s.o.Stop)
		is, known := x.run()
		s.rounds += nodes - x.nodes
		nodes = x.nodes
		switch {
		case is:
			p := &plan{list: slices.Clone(x.order), start: x.found}
			s.d.byStart(p.list, p.start)
			s.d.justify(p)
			s.see(p)
			s.walk = p
		case known:
			s.bound = s.best.cost.length
		}
	}
}
