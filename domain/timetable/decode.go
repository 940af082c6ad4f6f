package timetable

import (
	"container/heap"
	"slices"
)

// cost compares plans: first the time by which dues are missed, then the length.
type cost struct{ late, length int }

func (c cost) less(o cost) bool {
	return c.late < o.late || c.late == o.late && c.length < o.length
}

// plan is a list of activities with the starts that it leads to.
type plan struct {
	list, start []int
	cost        cost
	// last are the starts when all is moved to the right: where they are those of the
	// plan, an activity has no slack.
	last []int
	// units are those that each activity gets, by resource with names; only of the
	// best plan.
	units [][][]int
}

func (p *plan) clone() *plan {
	return &plan{slices.Clone(p.list), slices.Clone(p.start), p.cost, slices.Clone(p.last), p.units}
}

// decoder turns lists into plans; it keeps its memory from one to the next.
type decoder struct {
	m       *model
	base, b *board // base: outages and what is fixed
	queue   startQueue
	open    []int
	spare   []int
}

func newDecoder(m *model) *decoder {
	d := &decoder{m: m, base: newBoard(m), b: newBoard(m), open: make([]int, m.n), spare: make([]int, m.n)}
	for i, start := range m.fixed {
		if start >= 0 {
			d.base.put(i, start)
		}
	}
	return d
}

// ready is from when on an activity may start by its own window and by what comes before it.
func (m *model) ready(i int, start []int) int {
	t := m.early[i]
	for _, p := range m.pred[i] {
		t = max(t, start[p.to]+m.dur[p.to]+p.lag)
	}
	return t
}

// serial places the activities of a list, each where it fits first: the serial
// schedule generation scheme (Kelley 1963; Kolisch 1996). The list keeps the order.
func (d *decoder) serial(list, start []int) {
	m := d.m
	d.b.copyFrom(d.base)
	for _, i := range list {
		if m.fixed[i] >= 0 {
			start[i] = m.fixed[i]
			continue
		}
		start[i] = d.b.earliest(i, m.ready(i, start))
		d.b.put(i, start[i])
	}
}

// parallel goes through time and starts, whenever something can start, the one
// with the least key: the parallel schedule generation scheme (Bedworth and Bailey
// 1982; Kolisch 1996). Its plans leave nothing idle that could run, which suits full halls.
func (d *decoder) parallel(key []float64, list, start []int) []int {
	m := d.m
	d.b.copyFrom(d.base)
	d.queue = d.queue[:0]
	push := func(i int) {
		t := m.ready(i, start)
		if m.fixed[i] >= 0 {
			t = m.fixed[i]
		}
		heap.Push(&d.queue, waiting{t, key[i], i})
	}
	for i := range m.n {
		if d.open[i] = len(m.pred[i]); d.open[i] == 0 {
			push(i)
		}
	}
	list = list[:0]
	for len(d.queue) > 0 {
		w := d.queue[0]
		if m.fixed[w.i] < 0 {
			// The board has filled since: look again, and wait if it must.
			if t := d.b.earliest(w.i, w.at); t > w.at {
				d.queue[0].at = t
				heap.Fix(&d.queue, 0)
				continue
			}
			d.b.put(w.i, w.at)
		}
		heap.Pop(&d.queue)
		start[w.i] = w.at
		list = append(list, w.i)
		for _, s := range m.succ[w.i] {
			if d.open[s.to]--; d.open[s.to] == 0 {
				push(s.to)
			}
		}
	}
	return list
}

// right moves every activity as far to the right as the end of the plan, what comes
// after it and its due allow, the last to end first.
func (d *decoder) right(start []int) {
	m := d.m
	order := d.spare
	for i := range order {
		order[i] = i
	}
	end := 0
	for i, s := range start {
		end = max(end, s+m.dur[i])
	}
	// Among those that end together what comes later in the order goes first.
	pos := d.open
	for k, i := range m.topo {
		pos[i] = k
	}
	slices.SortFunc(order, func(a, b int) int {
		if c := start[b] + m.dur[b] - start[a] - m.dur[a]; c != 0 {
			return c
		}
		return pos[b] - pos[a]
	})
	d.b.copyFrom(d.base)
	for _, i := range order {
		if m.fixed[i] >= 0 {
			continue
		}
		last := max(min(end, m.late[i]), start[i]+m.dur[i])
		for _, s := range m.succ[i] {
			last = min(last, start[s.to]-s.lag)
		}
		// A plan that misses a due may have no room here: it stays until the next pass.
		if t := d.b.latest(i, last); t >= m.early[i] {
			start[i] = t
		}
		d.b.put(i, start[i])
	}
}

// byStart sorts a list by the starts of a plan; what must come first stays first.
func (d *decoder) byStart(list, start []int) {
	pos := d.open
	for k, i := range d.m.topo {
		pos[i] = k
	}
	slices.SortFunc(list, func(a, b int) int {
		if c := start[a] - start[b]; c != 0 {
			return c
		}
		return pos[a] - pos[b]
	})
}

// justify improves a plan by moving all to the right and then to the left
// (Valls, Ballestín and Quintanilla 2005): never longer, often shorter.
func (d *decoder) justify(p *plan) {
	d.right(p.start)
	p.last = append(p.last[:0], p.start...)
	d.byStart(p.list, p.start)
	d.serial(p.list, p.start)
	d.byStart(p.list, p.start)
	p.cost = d.m.cost(p.start)
}

func (m *model) cost(start []int) cost {
	var c cost
	for i, s := range start {
		end := s + m.dur[i]
		c.late += max(0, end-m.late[i])
		c.length = max(c.length, end)
	}
	return c
}

// waiting is an activity that can start at an instant as far as is known.
type waiting struct {
	at  int
	key float64
	i   int
}

type startQueue []waiting

func (q startQueue) Len() int      { return len(q) }
func (q startQueue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }
func (q *startQueue) Push(x any)   { *q = append(*q, x.(waiting)) }
func (q *startQueue) Pop() any {
	w := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return w
}

func (q startQueue) Less(a, b int) bool {
	if q[a].at != q[b].at {
		return q[a].at < q[b].at
	}
	if q[a].key != q[b].key {
		return q[a].key < q[b].key
	}
	return q[a].i < q[b].i
}
