package timetable

import (
	"slices"
	"sort"
)

// never is an instant that does not come.
const never = 1 << 50

// profile is how much of a resource is free over time: free[i] from at[i] to
// at[i+1], the last for ever.
type profile struct {
	at, free []int
}

func newProfile(capacity int) profile {
	return profile{at: []int{-never}, free: []int{capacity}}
}

// copyFrom makes p equal to o without new memory where it can.
func (p *profile) copyFrom(o *profile) {
	p.at = append(p.at[:0], o.at...)
	p.free = append(p.free[:0], o.free...)
}

// piece is the index of the piece that holds the instant.
func (p *profile) piece(t int) int {
	lo, hi := 0, len(p.at)
	for hi-lo > 1 {
		mid := int(uint(lo+hi) >> 1)
		if p.at[mid] <= t {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// cut makes a piece begin at t and returns its index.
func (p *profile) cut(t int) int {
	i := p.piece(t)
	if p.at[i] == t {
		return i
	}
	p.at = slices.Insert(p.at, i+1, t)
	p.free = slices.Insert(p.free, i+1, p.free[i])
	return i + 1
}

// take uses n units from one instant to another.
func (p *profile) take(from, to, n int) {
	if from >= to || n == 0 {
		return
	}
	i := p.cut(from)
	j := p.cut(to)
	for ; i < j; i++ {
		p.free[i] -= n
	}
}

// earliest is the first start from t on at which n units are free for d; never if
// there is none.
func (p *profile) earliest(t, d, n int) int {
	if d == 0 {
		return t
	}
	for i := p.piece(t); ; i++ {
		if p.free[i] < n {
			if i+1 == len(p.at) {
				return never
			}
			t = p.at[i+1]
		} else if i+1 == len(p.at) || p.at[i+1] >= t+d {
			return t
		}
	}
}

// latest is the last start at which n units are free for d and which ends by the
// given instant; -never if there is none.
func (p *profile) latest(end, d, n int) int {
	if d == 0 {
		return end
	}
	for i := p.piece(end - 1); ; i-- {
		if p.free[i] < n {
			if i == 0 {
				return -never
			}
			end = p.at[i]
		} else if p.at[i] <= end-d {
			return end - d
		}
	}
}

// span is when an entry runs.
type span struct{ from, to int }

// line is when an entry runs, in order.
type line []span

func (l *line) insert(s span) {
	i := sort.Search(len(*l), func(i int) bool {
		o := (*l)[i]
		return o.from > s.from || o.from == s.from && o.to > s.to
	})
	*l = slices.Insert(*l, i, s)
}

// earliest is the first start from t on with rest on both sides.
func (l line) earliest(t, d, rest int) int {
	for _, s := range l {
		if t+d+rest <= s.from {
			return t
		}
		t = max(t, s.to+rest)
	}
	return t
}

// latest is the last start that ends by the instant, with rest on both sides.
func (l line) latest(end, d, rest int) int {
	for _, s := range slices.Backward(l) {
		if end-d-rest >= s.to {
			break
		}
		end = min(end, s.from-rest)
	}
	return end - d
}
