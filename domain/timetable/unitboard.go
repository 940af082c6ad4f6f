package timetable

import (
	"cmp"
	"slices"
)

// placeUnits plans again in the order of the starts, each activity where its
// resources are free and enough named units are, one by one, from its start to its
// end. It is for days on which outages of named units leave the numbers right and
// the units wrong: one bench out until ten and another from ten on are never both in
// use, but nothing can run across ten. It says false where what is fixed has no units.
func (s *search) placeUnits(p *plan) (*plan, bool) {
	m, d := s.m, s.d
	out := p.clone()
	// Sorted by start, what must come before an activity has its place when its turn comes.
	d.byStart(out.list, p.start)
	d.b.copyFrom(newBoard(m))
	boards := make([]unitBoard, len(s.units))
	out.units = make([][][]int, len(s.units))
	for k, a := range s.units {
		boards[k] = newUnitBoard(a)
		out.units[k] = make([][]int, m.n)
	}
	place := func(i, t int) {
		out.start[i] = t
		d.b.put(i, t)
		for k := range boards {
			out.units[k][i] = boards[k].take(m.need(i, s.units[k].res), t, m.dur[i])
		}
	}
	// What is fixed goes first: it cannot make way.
	for _, i := range out.list {
		if t := m.fixed[i]; t >= 0 {
			for k := range boards {
				if boards[k].earliest(m.need(i, s.units[k].res), t, m.dur[i]) != t {
					return nil, false
				}
			}
			place(i, t)
		}
	}
	for _, i := range out.list {
		if m.fixed[i] >= 0 {
			continue
		}
		t := m.ready(i, out.start)
		// Each board may only push the start to the right, past what another found free, so all
		// are asked again until none does.
		for from := -1; from != t; {
			from = t
			if t = d.b.earliest(i, t); t >= never {
				return nil, false
			}
			for k := range boards {
				if t = boards[k].earliest(m.need(i, s.units[k].res), t, m.dur[i]); t >= never {
					return nil, false
				}
			}
		}
		place(i, t)
	}
	for k, a := range s.units {
		a.instants(out.units[k], make([]int, len(a.out)))
	}
	d.byStart(out.list, out.start)
	out.cost = m.cost(out.start)
	return out, true
}

// unitBoard is when each unit of a resource is taken.
type unitBoard struct {
	busy []line
	used []int
}

func newUnitBoard(a *assigner) unitBoard {
	b := unitBoard{busy: make([]line, len(a.out)), used: make([]int, len(a.out))}
	for k, l := range a.out {
		b.busy[k] = slices.Clone(l)
	}
	for _, o := range a.loose {
		left := o.n
		for k := range slices.Backward(b.busy) {
			if left > 0 && b.busy[k].earliest(o.from, o.to-o.from, 0) == o.from {
				b.busy[k].insert(o.span)
				left--
			}
		}
	}
	return b
}

// earliest is the first start from t on at which n units are each free for d.
func (b *unitBoard) earliest(n, t, d int) int {
	if n == 0 || d == 0 {
		return t
	}
	starts := make([]int, len(b.busy))
	for {
		for k, l := range b.busy {
			starts[k] = l.earliest(t, d, 0)
		}
		slices.Sort(starts)
		if starts[n-1] == t || starts[n-1] >= never {
			return starts[n-1]
		}
		t = starts[n-1]
	}
}

// take uses the n free units that were used least.
func (b *unitBoard) take(n, t, d int) []int {
	if n == 0 || d == 0 {
		return nil
	}
	var free []int
	for k, l := range b.busy {
		if l.earliest(t, d, 0) == t {
			free = append(free, k)
		}
	}
	slices.SortStableFunc(free, func(x, y int) int { return cmp.Compare(b.used[x], b.used[y]) })
	free = free[:n]
	for _, k := range free {
		b.busy[k].insert(span{t, t + d})
		b.used[k] += d
	}
	slices.Sort(free)
	return free
}
