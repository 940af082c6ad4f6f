package timetable

import "slices"

// weighing gives each activity a weight by what it needs of a resource, and says
// how much weight fits at one time into each number of units. Any weights are
// allowed, for the most that fits is reckoned from them: so activities of which only
// one fits at a time (four of six benches) count as what they are. (After the dual
// feasible functions of Fekete and Schepers 2001.)
type weighing struct {
	res    int
	of     []int // by need
	fits   []int // by free units
	supply profile
}

// weighings are those that are worth trying for a resource.
func (m *model) weighings(res int) []weighing {
	capacity := 0
	for _, free := range m.supply[res].free {
		capacity = max(capacity, free)
	}
	var needs []int
	for i := range m.n {
		if n := m.need(i, res); n > 0 && !slices.Contains(needs, n) {
			needs = append(needs, n)
		}
	}
	slices.Sort(needs)
	var out []weighing
	add := func(weight func(k, need int) int) {
		w := weighing{res: res, of: make([]int, capacity+1), fits: make([]int, capacity+1)}
		for k, n := range needs {
			w.of[n] = weight(k, n)
		}
		// What fits grows with the units, and each need may come as often as it likes: more than any
		// day has only makes the bound weaker, never wrong.
		for c := 1; c <= capacity; c++ {
			w.fits[c] = w.fits[c-1]
			for _, n := range needs {
				if n <= c {
					w.fits[c] = max(w.fits[c], w.fits[c-n]+w.of[n])
				}
			}
		}
		if w.fits[capacity] == 0 {
			return
		}
		// A weighing that another covers only costs time, so it is left out, whichever came first.
		for _, o := range out {
			if o.covers(&w, needs) {
				return
			}
		}
		out = slices.DeleteFunc(out, func(o weighing) bool { return w.covers(&o, needs) })
		w.supply.copyFrom(&m.supply[res])
		for i, free := range w.supply.free {
			w.supply.free[i] = w.fits[free]
		}
		out = append(out, w)
	}
	// The needs as they are: what is used of all there is.
	add(func(_, n int) int { return n })
	for _, least := range needs {
		// The activities of at least a size are counted. Then the same with a second class: one above
		// capacity-least leaves no room for another of that size, so it counts as two.
		add(func(_, n int) int { return oneIf(n >= least) })
		add(func(_, n int) int { return 2*oneIf(n > capacity-least) + oneIf(n >= least && n <= capacity-least) })
	}
	// Few needs leave few small weights that do not fall with the need, so all of them are tried.
	if len(needs) <= 3 {
		const most = 4
		for a := range most + 1 {
			for b := a; b <= most; b++ {
				for c := b; c <= most; c++ {
					of := []int{a, b, c}[3-len(needs):]
					add(func(k, _ int) int { return of[k] })
				}
			}
		}
	}
	return out
}

// covers says that no bound by o can be above one by w.
func (w *weighing) covers(o *weighing, needs []int) bool {
	for c := range w.fits {
		for _, n := range needs {
			if w.of[n]*o.fits[c] < o.of[n]*w.fits[c] {
				return false
			}
		}
	}
	return true
}

func oneIf(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func (m *model) need(i, res int) int {
	for _, u := range m.needs[i] {
		if u.res == res {
			return u.n
		}
	}
	return 0
}

// finish is the earliest end of work that begins at from: of the given amount where
// period is 1; else the amount is of whole periods that are looked at once each, at
// their last instant, where every activity that lasts k periods is seen k times.
func finish(supply *profile, from, period, amount int) int {
	if amount <= 0 {
		return from
	}
	at := from + period - 1 // the next look
	for i := supply.piece(at); ; i++ {
		free := supply.free[i]
		if i+1 == len(supply.at) {
			if free <= 0 {
				return never
			}
			return at + (amount+free-1)/free*period - period + 1
		}
		looks := (supply.at[i+1] - at + period - 1) / period
		if looks <= 0 {
			continue
		}
		if free > 0 && (amount+free-1)/free <= looks {
			return at + (amount+free-1)/free*period - period + 1
		}
		amount -= looks * free
		at += looks * period
	}
}
