package timetable

import (
	"cmp"
	"slices"
)

// assigner gives every activity named units of one resource.
type assigner struct {
	m   *model
	res int
	// out is when each unit is out by name, loose the outages of any unit.
	out   []line
	loose []looseOutage
}

type looseOutage struct {
	span
	n int
}

func newAssigner(m *model, res int) *assigner {
	r := m.p.Resources[res]
	a := &assigner{m: m, res: res, out: make([]line, len(r.Units))}
	for _, o := range m.p.Outages {
		if o.Resource != r.Name {
			continue
		}
		s := span{o.From, never}
		if o.To != nil {
			s.to = *o.To
		}
		if o.Unit == "" {
			a.loose = append(a.loose, looseOutage{s, o.Amount})
			continue
		}
		k := slices.Index(r.Units, o.Unit)
		a.out[k] = union(append(a.out[k], s))
	}
	return a
}

// taking is something that takes units: an activity, or an outage of any unit (i -1).
type taking struct {
	span
	i, n int
}

// assign gives units to what runs when the starts say, evened out by use. It says
// false where outages of named units leave no way that it can find; without such
// outages there always is one, for what overlaps at any time is never more than there is.
func (a *assigner) assign(start []int) ([][]int, bool) {
	for _, even := range []bool{true, false} {
		if got, ok := a.try(start, even); ok {
			return got, true
		}
	}
	return nil, false
}

// takings are in order of their beginning, the longest first where units are short.
func (a *assigner) takings(start []int) []taking {
	var list []taking
	for _, o := range a.loose {
		list = append(list, taking{o.span, -1, o.n})
	}
	for i, t := range start {
		if n := a.m.need(i, a.res); n > 0 {
			list = append(list, taking{span{t, t + a.m.dur[i]}, i, n})
		}
	}
	slices.SortStableFunc(list, func(x, y taking) int {
		return cmp.Or(x.from-y.from, y.to-y.from-x.to+x.from, x.i-y.i)
	})
	return list
}

// try goes through time. Of the units that are free as long as they are needed it
// takes those used least (even), or those that are out soonest afterwards.
func (a *assigner) try(start []int, even bool) ([][]int, bool) {
	units := len(a.out)
	got := make([][]int, a.m.n)
	used := make([]int, units)
	until := make([]int, units)
	for k := range until {
		until[k] = -never
	}
	free := make([]int, 0, units)
	for _, t := range a.takings(start) {
		free = free[:0]
		for k := range units {
			if until[k] <= t.from && a.out[k].earliest(t.from, t.to-t.from, 0) == t.from {
				free = append(free, k)
			}
		}
		n := t.n
		if t.i < 0 {
			n = min(n, len(free)) // what is out by name may be out anyway
		}
		if len(free) < n {
			return nil, false
		}
		slices.SortStableFunc(free, func(x, y int) int {
			if even && t.i >= 0 {
				return used[x] - used[y]
			}
			return cmp.Or(a.nextOut(x, t.to)-a.nextOut(y, t.to), used[x]-used[y])
		})
		for _, k := range free[:n] {
			until[k] = t.to
			if t.i >= 0 {
				used[k] += t.to - t.from
				got[t.i] = append(got[t.i], k)
			}
		}
	}
	a.instants(got, used)
	return got, true
}

// instants names units for activities without a length, which occupy nothing.
func (a *assigner) instants(got [][]int, used []int) {
	for i, act := range a.m.p.Activities {
		if a.m.dur[i] == 0 {
			for k := range min(act.Needs[a.m.p.Resources[a.res].Name], len(used)) {
				got[i] = append(got[i], k)
			}
		}
		slices.Sort(got[i])
	}
}

// nextOut is when the unit is out next, from an instant on.
func (a *assigner) nextOut(k, t int) int {
	for _, s := range a.out[k] {
		if s.from >= t {
			return s.from
		}
	}
	return never
}

// named says whether outages name units, so that numbers alone do not tell whether
// an activity finds the same units free from its start to its end.
func (a *assigner) named() bool {
	return slices.ContainsFunc(a.out, func(l line) bool { return len(l) > 0 })
}
