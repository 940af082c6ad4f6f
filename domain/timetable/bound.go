package timetable

import (
	"cmp"
	"slices"
)

// cause is where a bound comes from.
type cause struct {
	kind     causeKind
	at       int // activity, entry or resource
	from, to int // of a resource
}

type causeKind int

const (
	byChain causeKind = iota
	byEntry
	byResource
	byRelease
)

// job is an activity as a bound sees it: not before head, and at least tail to come
// after its end.
type job struct{ i, head, tail int }

// bounder finds lengths below which no plan can come.
type bounder struct {
	m       *model
	weigh   []weighing
	periods []int
	memo    map[string]reach
}

// reach is an instant that a set of activities cannot have ended before.
type reach struct {
	t   int
	why cause
}

// newBounder finds heads and tails, in the order of activities and against it.
func newBounder(m *model) *bounder {
	b := &bounder{m: m, memo: map[string]reach{}}
	for r := range m.supply {
		b.weigh = append(b.weigh, m.weighings(r)...)
	}
	b.periods = m.periods()
	b.setHeads()
	b.setTails()
	return b
}

// periods are the lengths by which work is looked at: 1 for the work itself, and
// some of the durations, for what is over when one wave of heats ends.
func (m *model) periods() []int {
	var all []int
	for _, d := range m.dur {
		if d > 1 && !slices.Contains(all, d) {
			all = append(all, d)
		}
	}
	slices.Sort(all)
	out := []int{1}
	const most = 10
	for k := range min(most, len(all)) {
		out = append(out, all[k*len(all)/min(most, len(all))])
	}
	return out
}

func (b *bounder) setHeads() {
	m := b.m
	m.head, m.headWhy = make([]int, m.n), make([]cause, m.n)
	for _, i := range m.topo {
		t, why := m.early[i], cause{kind: byRelease, at: i}
		for _, p := range m.pred[i] {
			if end := m.head[p.to] + m.dur[p.to] + p.lag; end >= t {
				t, why = end, cause{kind: byChain, at: p.to}
			}
		}
		if len(m.pred[i]) > 1 {
			if r := b.before(i); r.t > t {
				t, why = r.t, r.why
			}
		}
		m.head[i], m.headWhy[i] = m.fit(i, t), why
		if m.fixed[i] >= 0 {
			m.head[i] = m.fixed[i]
		}
	}
}

// before is when all that must come before an activity can have ended.
func (b *bounder) before(i int) reach {
	key := b.m.before[i].key()
	r, known := b.memo[key]
	jobs := b.jobs(b.m.before[i].list(nil))
	if !known {
		r = b.work(jobs, nil)
		b.memo[key] = r
	}
	for _, e := range b.m.ents[i] {
		own := slices.DeleteFunc(slices.Clone(jobs), func(j job) bool { return !slices.Contains(b.m.ents[j.i], e) })
		if t := b.chain(own, e) + b.m.rest[e]; len(own) > 0 && t > r.t {
			r = reach{t, cause{kind: byEntry, at: e}}
		}
	}
	return r
}

func (s set) key() string {
	out := make([]byte, 0, 8*len(s))
	for _, w := range s {
		for k := range 8 {
			out = append(out, byte(w>>(8*k)))
		}
	}
	return string(out)
}

func (b *bounder) jobs(list []int) []job {
	out := make([]job, len(list))
	for k, i := range list {
		out[k] = job{i: i, head: b.m.head[i]}
	}
	return out
}

func (b *bounder) setTails() {
	m := b.m
	m.tail, m.tailWhy = make([]int, m.n), make([]cause, m.n)
	after := make([]set, m.n)
	memo := map[string]reach{}
	for k := m.n - 1; k >= 0; k-- {
		i := m.topo[k]
		after[i] = newSet(m.n)
		t, why := 0, cause{kind: byChain, at: -1}
		for _, s := range m.succ[i] {
			after[i].add(s.to)
			after[i].join(after[s.to])
			if q := s.lag + m.dur[s.to] + m.tail[s.to]; q > t {
				t, why = q, cause{kind: byChain, at: s.to}
			}
		}
		if len(m.succ[i]) > 1 {
			key := after[i].key()
			r, known := memo[key]
			if !known {
				// Time runs backwards here, and nobody knows when the day ends: outages
				// cannot be counted.
				jobs := b.jobs(after[i].list(nil))
				for k := range jobs {
					jobs[k].head = m.tail[jobs[k].i]
				}
				r = b.work(jobs, func(w *weighing) profile { return newProfile(w.fits[len(w.fits)-1]) })
				memo[key] = r
			}
			if r.t > t {
				t, why = r.t, r.why
			}
		}
		m.tail[i], m.tailWhy[i] = t, why
	}
}

// work is when jobs can have ended by what they use together: of any resource from
// any instant on.
func (b *bounder) work(jobs []job, other func(*weighing) profile) reach {
	var best reach
	slices.SortFunc(jobs, func(x, y job) int { return cmp.Or(y.head-x.head, x.i-y.i) })
	for k := range b.weigh {
		w := &b.weigh[k]
		supply := w.supply
		if other != nil {
			supply = other(w)
		}
		for _, period := range b.periods {
			amount := 0
			for k, j := range jobs {
				amount += w.amount(b.m, j.i, period)
				if k+1 < len(jobs) && jobs[k+1].head == j.head || amount == 0 {
					continue
				}
				if t := finish(&supply, j.head, period, amount); t > best.t {
					best = reach{t, cause{kind: byResource, at: w.res, from: j.head, to: t}}
				}
			}
		}
	}
	return best
}

func (w *weighing) amount(m *model, i, period int) int {
	n := m.need(i, w.res)
	if n >= len(w.of) {
		return 0
	}
	return w.of[n] * (m.dur[i] / period)
}

// chain is when the jobs of one entry can have ended, one after the other with rest.
func (b *bounder) chain(jobs []job, e int) int {
	slices.SortFunc(jobs, func(x, y job) int { return cmp.Or(y.head-x.head, x.i-y.i) })
	t, sum := 0, -b.m.rest[e]
	for _, j := range jobs {
		sum += b.m.dur[j.i] + b.m.rest[e]
		t = max(t, j.head+sum)
	}
	return t
}

// bound is a length below which no plan can come, with the rule that says so.
func (b *bounder) bound() reach {
	m := b.m
	var best reach
	see := func(t int, why cause) {
		if t > best.t {
			best = reach{t, why}
		}
	}
	all := make([]job, m.n)
	for i := range all {
		all[i] = job{i, m.head[i], m.tail[i]}
		see(m.head[i]+m.dur[i]+m.tail[i], cause{kind: byChain, at: i})
	}
	for _, q := range levels(m.tail) {
		// What ends at least q before the end of the day has ended all its work by then.
		r := b.work(slices.DeleteFunc(slices.Clone(all), func(j job) bool { return j.tail < q }), nil)
		see(r.t+q, r.why)
	}
	for e, list := range m.of {
		// The same for one entry, whose heats also have its rest between them.
		for _, last := range list {
			q := m.tail[last]
			var jobs []job
			for _, i := range list {
				if m.tail[i] >= q {
					jobs = append(jobs, all[i])
				}
			}
			see(b.chain(jobs, e)+q, cause{kind: byEntry, at: e})
		}
	}
	return best
}

// levels are the different values, or some of them where they are many.
func levels(values []int) []int {
	all := slices.Compact(slices.Sorted(slices.Values(values)))
	const most = 40
	if len(all) <= most {
		return all
	}
	out := make([]int, most)
	for k := range out {
		out[k] = all[k*(len(all)-1)/(most-1)]
	}
	return out
}
