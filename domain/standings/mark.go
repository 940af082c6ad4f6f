package standings

import (
	"cmp"
	"math"
	"slices"
)

// marking finds the rows of a table that lie too close together without comparing each with each: of two that are, the
// greater reaches down as far as the lesser reaches up. It costs n log n and what it finds.
type marking struct {
	*Closeness
	quantile float64
	rows     []marked // in the order of the table
	closeTo  [][]int  // what was found of each, as numbers of rows
	asked    int      // pairs that were compared
}

// marked is a row with a rank and a figure.
type marked struct {
	row   *Standing
	place int // in the table
	level int // among the different ranks
	reach reach
}

// mark names the rows that lie too close together, of all that have a rank and a figure.
func (c *Closeness) mark(rows []Standing, of map[string]*timed, rule Rule) *marking {
	m := &marking{Closeness: c, quantile: float64(c.Quantile()) / 1e6}
	level := 0
	for i := range rows {
		row := &rows[i]
		if row.Rank == 0 || row.None {
			continue
		}
		if n := len(m.rows); n > 0 && m.rows[n-1].row.Rank != row.Rank {
			level++
		}
		m.rows = append(m.rows, marked{row, i, level, of[row.Entry].reach(rule)})
	}
	m.closeTo = make([][]int, len(m.rows))
	parts := m.parts()
	for i, part := range parts {
		all := m.byFigure(part, func(r *reach) bool { return !r.unknown() })
		inexact := m.byFigure(part, func(r *reach) bool { return !r.unknown() && !r.exact() })
		for k, other := range parts {
			if k != i || len(c.Lines) == 0 {
				m.within(other, all, inexact)
			}
		}
	}
	m.neighbours(parts)
	for i, found := range m.closeTo {
		slices.Sort(found)
		for _, j := range slices.Compact(found) {
			m.rows[i].row.TooCloseTo = append(m.rows[i].row.TooCloseTo, m.rows[j].row.Entry)
		}
	}
	return m
}

// parts are the numbers of the rows between the lines: only rows of different parts are compared. Without lines all
// rows are one part, which is compared with itself.
func (m *marking) parts() [][]int {
	lines := slices.Sorted(slices.Values(m.Lines))
	out := make([][]int, len(lines)+1)
	for i := range m.rows {
		at, _ := slices.BinarySearch(lines, m.rows[i].place+1) // lines above the row
		out[at] = append(out[at], i)
	}
	return out
}

// within compares the rows of one part, as the greater ones, with those of another that reach up to them: all of
// which something is known, or those that are not exact.
func (m *marking) within(greater []int, all, inexact ascending) {
	for _, i := range greater {
		a := &m.rows[i].reach
		if a.unknown() {
			continue
		}
		among := all
		if a.exact() {
			among = inexact // of two that are exact nothing has to be asked
		}
		low, most := a.low(m.quantile), a.figure+2*unsure*a.figure
		upTo, _ := slices.BinarySearchFunc(among.rows, most, func(j int, most float64) int {
			return cmp.Compare(m.rows[j].reach.figure, most)
		})
		among.above(low, upTo, func(j int) {
			m.asked++
			if i != j && m.near(a, &m.rows[j].reach, m.quantile) {
				m.closeTo[i], m.closeTo[j] = append(m.closeTo[i], j), append(m.closeTo[j], i)
			}
		})
	}
}

// ascending are rows by their figures, with a tree over how far they reach up.
type ascending struct {
	rows []int
	// high is a heap of the largest ends: node n has 2n and 2n+1 below it, the leaves are the rows.
	high []float64
}

func (m *marking) byFigure(rows []int, takes func(*reach) bool) ascending {
	var out ascending
	for _, i := range rows {
		if takes(&m.rows[i].reach) {
			out.rows = append(out.rows, i)
		}
	}
	slices.SortFunc(out.rows, func(i, j int) int {
		return cmp.Or(cmp.Compare(m.rows[i].reach.figure, m.rows[j].reach.figure), cmp.Compare(i, j))
	})
	n := len(out.rows)
	out.high = make([]float64, 2*n)
	for k, i := range out.rows {
		out.high[n+k] = m.rows[i].reach.high(m.quantile)
	}
	for k := n - 1; k > 0; k-- {
		out.high[k] = math.Max(out.high[2*k], out.high[2*k+1])
	}
	return out
}

// above visits those of the first so many rows that reach up to low or further.
func (a ascending) above(low float64, upTo int, visit func(row int)) {
	n := len(a.rows)
	var down func(node int)
	down = func(node int) {
		switch {
		case a.high[node] < low:
		case node >= n:
			visit(a.rows[node-n])
		default:
			down(2 * node)
			down(2*node + 1)
		}
	}
	// The leaves from n to n+upTo as whole subtrees, from both ends.
	for l, r := n, n+upTo; l < r; l, r = l/2, r/2 {
		if l%2 == 1 {
			down(l)
			l++
		}
		if r%2 == 1 {
			r--
			down(r)
		}
	}
}

// neighbours marks the rows of which nothing is known with those beside them in the table.
func (m *marking) neighbours(parts [][]int) {
	begins := []int{} // of each level, as numbers of rows, and the end
	for i := range m.rows {
		if i == 0 || m.rows[i].level != m.rows[i-1].level {
			begins = append(begins, i)
		}
	}
	begins = append(begins, len(m.rows))
	for k, part := range parts {
		for _, i := range part {
			if !m.rows[i].reach.unknown() {
				continue
			}
			level := m.rows[i].level
			from, to := begins[max(0, level-1)], begins[min(level+2, len(begins)-1)]
			for other, among := range parts {
				if other == k && len(m.Lines) > 0 {
					continue
				}
				first, _ := slices.BinarySearch(among, from)
				for _, j := range among[first:] {
					if j >= to {
						break
					}
					if i != j {
						m.closeTo[i], m.closeTo[j] = append(m.closeTo[i], j), append(m.closeTo[j], i)
					}
				}
			}
		}
	}
}
