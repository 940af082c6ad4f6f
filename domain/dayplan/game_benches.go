package dayplan

import "slices"

// take gives a heat its benches from an instant on.
func (g *game) take(i int, at int64) {
	h := &g.r.Heats[i]
	g.start[i], g.end[i] = at, at+g.len.heats[i]
	for k, b := range g.on[i] {
		g.free[b], g.by[b] = g.end[i]+g.len.change[i][k], i
		if len(g.breaks) > 0 && g.breaks[b].atUS <= g.free[b] {
			g.free[b] += g.breaks[b].forUS
			g.breaks[b].atUS = never
		}
	}
	for _, c := range h.cars {
		g.cars[c], g.from[c] = g.end[i]+h.RestUS, i
	}
	g.noteLunch(i)
	g.left[h.Round]--
	if g.end[i] >= g.ends[h.Round] {
		g.ends[h.Round], g.lastOf[h.Round] = g.end[i], i
	}
	g.called = append(g.called, i)
}

func (g *game) freeNow() (n int) {
	for _, at := range g.free {
		if at <= g.now {
			n++
		}
	}
	return n
}

// shadow is when so many benches are free, and how many are left then.
func (g *game) shadow(lanes int) (at int64, spare int) {
	g.sorted = append(g.sorted[:0], g.free...)
	sorted := g.sorted
	slices.Sort(sorted)
	if lanes > len(sorted) {
		return never, 0
	}
	at = max(g.now, sorted[lanes-1])
	for _, f := range sorted {
		if f <= at {
			spare++
		}
	}
	return at, spare - lanes
}

// freed is the heat whose bench is the last of so many to fall free; -1 where none has one.
func (g *game) freed(lanes int) int {
	order := make([]int, len(g.free))
	for b := range order {
		order[b] = b
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(min(max(g.free[a]-g.free[b], -1), 1))
	})
	if lanes > len(order) || lanes == 0 {
		return -1
	}
	return g.by[order[lanes-1]]
}

// choose finds benches for a heat among the free ones, in plate order.
func (g *game) choose(i int) {
	lanes := g.lanes(i)
	for b, at := range g.free {
		if lanes == 0 {
			return
		}
		if at <= g.now {
			g.on[i] = append(g.on[i], b)
			lanes--
		}
	}
}
