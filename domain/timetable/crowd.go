package timetable

import (
	"cmp"
	"slices"
)

// crowd is entries that are alike: how much they run in all, their longest run, the
// rest between, how early and how near to the end they can run, and how much of each
// weighing an instant of their run uses at least, in shares of 1/shares.
type crowd struct {
	total, longest, rest, head, tail int
	use                              []int
	count                            int
}

// shares divides the weight of a heat among its entries: a multiple of 1 to 12.
const shares = 27720

func (c *crowd) compare(o *crowd) int {
	return cmp.Or(cmp.Compare(c.total, o.total), cmp.Compare(c.longest, o.longest), cmp.Compare(c.rest, o.rest),
		cmp.Compare(c.head, o.head), cmp.Compare(c.tail, o.tail), slices.Compare(c.use, o.use))
}

// crowds puts entries that are alike together.
func (b *bounder) crowds() []crowd {
	m := b.m
	var all []crowd
	for e, list := range m.of {
		c := crowd{rest: m.rest[e], head: never, tail: never, count: 1, use: make([]int, len(b.weigh))}
		for k := range c.use {
			c.use[k] = never
		}
		for _, i := range list {
			if m.dur[i] == 0 {
				continue
			}
			c.total += m.dur[i]
			c.longest = max(c.longest, m.dur[i])
			// Each the least over its heats, for nobody knows which of them fall into a stretch: the
			// sum over a crowd is then never above what it must use.
			c.head = min(c.head, m.head[i])
			c.tail = min(c.tail, m.tail[i])
			for k := range b.weigh {
				// The weight is shared among the entries of a heat so that together they count it once; it
				// is rounded down where they are more than twelve.
				c.use[k] = min(c.use[k], b.weigh[k].amount(m, i, m.dur[i])*shares/len(m.ents[i]))
			}
		}
		if c.total > 0 {
			all = append(all, c)
		}
	}
	// Sorted, those that are alike stand side by side.
	slices.SortFunc(all, func(x, y crowd) int { return x.compare(&y) })
	var out []crowd
	for _, c := range all {
		if len(out) > 0 && out[len(out)-1].compare(&c) == 0 {
			out[len(out)-1].count++
		} else {
			out = append(out, c)
		}
	}
	return out
}

// most is how much an entry can run within a time: runs with rests between them, the
// last or first perhaps only in part.
func (c *crowd) most(time int) int {
	if time <= 0 || c.longest == 0 {
		return 0
	}
	step := c.longest + c.rest
	return min(c.total, time/step*c.longest+min(c.longest, time%step))
}

// crowded says that entries must run more within some stretch of time than resources
// allow. Nobody knows which of its heats come first, but with its rests an entry can do
// only so much outside the stretch, before it and after it.
func (b *bounder) crowded(length int, crowds []crowd) bool {
	instants := moments(length, crowds)
	for k := range b.weigh {
		supply := &b.weigh[k].supply
		for x, from := range instants {
			for _, to := range instants[x+1:] {
				must := 0
				for _, c := range crowds {
					must += c.count * c.use[k] * max(0, c.total-c.most(from-c.head)-c.most(length-c.tail-to))
				}
				if must > shares*supply.between(from, to) {
					return true
				}
			}
		}
	}
	return false
}

// moments are where the amounts of crowded bend: ends and beginnings of runs without
// delay from the beginning and from the end.
func moments(length int, crowds []crowd) []int {
	out := []int{0, length}
	const most = 60
	for _, c := range crowds {
		step := c.longest + c.rest
		for k := 0; k*c.longest < c.total && len(out) < most; k++ {
			for _, t := range []int{k * step, k*step + c.longest} {
				if t < length {
					out = append(out, c.head+t, length-c.tail-t)
				}
			}
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(t int) bool { return t < 0 || t > length })
}

// between is how much there is from one instant to another.
func (p *profile) between(from, to int) int {
	sum := 0
	for i := p.piece(from); i < len(p.at) && p.at[i] < to; i++ {
		end := to
		if i+1 < len(p.at) {
			end = min(end, p.at[i+1])
		}
		sum += p.free[i] * (end - max(from, p.at[i]))
	}
	return sum
}
