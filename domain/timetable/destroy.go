package timetable

import "slices"

// pair is two activities of which one must have ended, and rested, before the other.
type pair struct{ i, j, gap int }

// mostPairs bounds the memory and time of what is looked at two by two.
const mostPairs = 60_000

// pairs lists activities that cannot overlap and whose order is open.
func (m *model) pairs() []pair {
	var out []pair
	seen := map[[2]int]bool{}
	for _, list := range m.of {
		for _, i := range list {
			for _, j := range list {
				if i < j && !m.before[i].has(j) && !m.before[j].has(i) && !seen[[2]int{i, j}] {
					seen[[2]int{i, j}] = true
					gap, _ := m.lag(i, j)
					out = append(out, pair{i, j, gap})
				}
			}
		}
	}
	// Pairs of one entry, which also hold its rest, are all there by now: the limit cuts pairs of
	// a resource alone, which is safe, for a bound that looks at fewer is only weaker.
	for i := range m.n {
		for j := range i {
			if len(out) >= mostPairs {
				return out
			}
			if seen[[2]int{j, i}] || m.before[i].has(j) || m.before[j].has(i) {
				continue
			}
			for _, u := range m.needs[i] {
				if u.n+m.need(j, u.res) > m.p.Resources[u.res].Capacity && m.need(j, u.res) > 0 {
					out = append(out, pair{j, i, 0})
					break
				}
			}
		}
	}
	return out
}

// windows are the times within which activities must lie if the day has a length.
type windows struct {
	m     *model
	early []int // start
	late  []int // end
	moved bool
	// sure and parts are memory of timetable.
	sure  []profile
	parts []span
}

func (w *windows) after(i, t int) {
	if t > w.early[i] {
		w.early[i], w.moved = t, true
	}
}

func (w *windows) by(i, t int) {
	if t < w.late[i] {
		w.late[i], w.moved = t, true
	}
}

func (w *windows) broken() bool {
	for i := range w.early {
		if w.early[i]+w.m.dur[i] > w.late[i] {
			return true
		}
	}
	return false
}

// contradict narrows the windows by what each says of the others, in so many passes at
// most, and says whether they leave something no room.
func (w *windows) contradict(pairs []pair, passes int) bool {
	for range passes {
		w.moved = false
		if w.broken() {
			return true
		}
		w.order()
		if w.apart(pairs) || w.broken() || w.timetable() || w.broken() {
			return true
		}
		if !w.moved {
			break
		}
	}
	return false
}

// destroy raises a bound by refuting lengths (destructive improvement, Klein and
// Scholl 1999): if the windows that a length leaves contradict one another, every
// plan is longer. The length is looked for by halving, so the bound may miss some.
func (b *bounder) destroy(low, high int) int {
	pairs, crowds := b.m.pairs(), b.crowds()
	for low < high {
		mid := low + (high-low-1)/2
		if b.crowded(mid, crowds) || b.refuted(mid, pairs) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

// refuted says that no plan has this length.
func (b *bounder) refuted(length int, pairs []pair) bool {
	m := b.m
	w := &windows{m: m, early: slices.Clone(m.head), late: make([]int, m.n)}
	for i := range m.n {
		w.late[i] = min(m.late[i], length-m.tail[i])
	}
	return w.contradict(pairs, 40) || b.overfull(w)
}

func (w *windows) order() {
	for _, i := range w.m.topo {
		for _, p := range w.m.pred[i] {
			w.after(i, w.early[p.to]+w.m.dur[p.to]+p.lag)
		}
	}
	for _, i := range slices.Backward(w.m.topo) {
		for _, s := range w.m.succ[i] {
			w.by(i, w.late[s.to]-w.m.dur[s.to]-s.lag)
		}
	}
}

// apart orders pairs of which only one order is left, and says if there is none.
func (w *windows) apart(pairs []pair) bool {
	dur := w.m.dur
	for _, p := range pairs {
		first := w.early[p.i]+dur[p.i]+p.gap <= w.late[p.j]-dur[p.j]
		second := w.early[p.j]+dur[p.j]+p.gap <= w.late[p.i]-dur[p.i]
		switch {
		case !first && !second:
			return true
		case !second:
			w.after(p.j, w.early[p.i]+dur[p.i]+p.gap)
			w.by(p.i, w.late[p.j]-dur[p.j]-p.gap)
		case !first:
			w.after(p.i, w.early[p.j]+dur[p.j]+p.gap)
			w.by(p.j, w.late[p.i]-dur[p.i]-p.gap)
		}
	}
	return false
}

// timetable moves windows past what other activities are sure to use, and says if
// that is more than there is.
func (w *windows) timetable() bool {
	m := w.m
	if w.sure == nil {
		w.sure, w.parts = make([]profile, len(m.supply)), make([]span, m.n)
	}
	sure, parts := w.sure, w.parts
	for r := range sure {
		sure[r].copyFrom(&m.supply[r])
	}
	// Wherever an activity lies in its window, it runs from its latest start to its earliest end.
	// The span is empty where the window is two durations or wider, and then takes nothing.
	for i := range m.n {
		parts[i] = span{w.late[i] - m.dur[i], w.early[i] + m.dur[i]}
		for _, u := range m.needs[i] {
			sure[u.res].take(parts[i].from, parts[i].to, u.n)
		}
	}
	for r := range sure {
		for _, free := range sure[r].free {
			if free < 0 {
				return true
			}
		}
	}
	for i := range m.n {
		for _, u := range m.needs[i] {
			p := &sure[u.res]
			// Its own part is given back while it is asked for, for it does not stand in its own way.
			p.take(parts[i].from, parts[i].to, -u.n)
			w.after(i, p.earliest(w.early[i], m.dur[i], u.n))
			if last := p.latest(w.late[i], m.dur[i], u.n); last+m.dur[i] < w.late[i] {
				w.by(i, last+m.dur[i])
			}
			p.take(parts[i].from, parts[i].to, u.n)
		}
	}
	return false
}

// overfull says that what must lie in some stretch of time has no room in it.
func (b *bounder) overfull(w *windows) bool {
	m := b.m
	// What must have ended by an instant must find room before it: by the resources, and below by
	// the rests of each entry.
	for _, end := range levels(w.late) {
		var jobs []job
		for i := range m.n {
			if w.late[i] <= end {
				jobs = append(jobs, job{i: i, head: w.early[i]})
			}
		}
		if b.work(jobs, nil).t > end {
			return true
		}
	}
	for e, list := range m.of {
		for _, last := range list {
			var jobs []job
			for _, i := range list {
				if w.late[i] <= w.late[last] {
					jobs = append(jobs, job{i: i, head: w.early[i]})
				}
			}
			if b.chain(jobs, e) > w.late[last] {
				return true
			}
		}
	}
	return false
}
