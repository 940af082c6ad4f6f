package timetable

// board holds what is placed so far: what is free of each resource, and when
// each entry runs.
type board struct {
	m    *model
	free []profile
	runs []line
}

// newBoard is a board on which only outages stand.
func newBoard(m *model) *board {
	b := &board{m: m, free: make([]profile, len(m.supply)), runs: make([]line, len(m.names))}
	for r := range m.supply {
		b.free[r].copyFrom(&m.supply[r])
	}
	return b
}

// copyFrom makes b equal to o.
func (b *board) copyFrom(o *board) {
	for r := range o.free {
		b.free[r].copyFrom(&o.free[r])
	}
	for e := range o.runs {
		b.runs[e] = append(b.runs[e][:0], o.runs[e]...)
	}
}

func (b *board) put(i, start int) {
	end := start + b.m.dur[i]
	for _, u := range b.m.needs[i] {
		b.free[u.res].take(start, end, u.n)
	}
	for _, e := range b.m.ents[i] {
		b.runs[e].insert(span{start, end})
	}
}

// earliest is the first start from t on that fits what is placed; never if none does.
func (b *board) earliest(i, t int) int {
	d := b.m.dur[i]
	for {
		from := t
		for _, u := range b.m.needs[i] {
			if t = b.free[u.res].earliest(t, d, u.n); t >= never {
				return never
			}
		}
		for _, e := range b.m.ents[i] {
			t = b.runs[e].earliest(t, d, b.m.rest[e])
		}
		if t == from {
			return t
		}
	}
}

// latest is the last start that ends by the given instant and fits what is placed;
// -never if none does.
func (b *board) latest(i, end int) int {
	d := b.m.dur[i]
	for {
		last := end
		for _, u := range b.m.needs[i] {
			start := b.free[u.res].latest(end, d, u.n)
			if start <= -never {
				return -never
			}
			end = start + d
		}
		for _, e := range b.m.ents[i] {
			end = b.runs[e].latest(end, d, b.m.rest[e]) + d
		}
		if end == last {
			return end - d
		}
	}
}
