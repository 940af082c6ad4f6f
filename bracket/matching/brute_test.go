package matching

import (
	"slices"
)

// best is what brute finds: the greatest total without regard to the number of pairs, or among those with the most.
type best struct {
	pairs int
	total []int64
}

// brute tries every matching of a small graph, by the partners of the lowest vertex left, with the best of every
// set of vertices remembered.
func brute(n, words int, edges []VectorEdge, maxCardinality bool) best {
	weight := map[[2]int][]int64{}
	for _, e := range edges {
		k := [2]int{min(e.U, e.V), max(e.U, e.V)}
		if w, ok := weight[k]; e.U != e.V && (!ok || slices.Compare(e.Weight, w) > 0) {
			weight[k] = e.Weight
		}
	}
	known := map[int]best{}
	var solve func(left int) best
	solve = func(left int) best {
		if left == 0 {
			return best{0, make([]int64, words)}
		}
		if b, ok := known[left]; ok {
			return b
		}
		v := 0
		for left&(1<<v) == 0 {
			v++
		}
		rest := left &^ (1 << v)
		b := solve(rest)
		for x := v + 1; x < n; x++ {
			w, ok := weight[[2]int{v, x}]
			if rest&(1<<x) == 0 || !ok {
				continue
			}
			c := solve(rest &^ (1 << x))
			c = best{c.pairs + 1, slices.Clone(c.total)}
			for k := range w {
				c.total[k] += w[k]
			}
			better := slices.Compare(c.total, b.total) > 0
			if maxCardinality && c.pairs != b.pairs {
				better = c.pairs > b.pairs
			}
			if better {
				b = c
			}
		}
		known[left] = b
		return b
	}
	return solve(1<<n - 1)
}

// totalOf adds up a matching of the edges; it reports false if the matching is none.
func totalOf(n, words int, edges []VectorEdge, mate []int) (b best, ok bool) {
	if len(mate) != n {
		return best{}, false
	}
	b.total = make([]int64, words)
	for v, w := range mate {
		if w == -1 {
			continue
		}
		if w < 0 || w >= n || w == v || mate[w] != v {
			return best{}, false
		}
		if w < v {
			continue
		}
		var weight []int64
		for _, e := range edges {
			if (e.U == v && e.V == w || e.U == w && e.V == v) && (weight == nil || slices.Compare(e.Weight, weight) > 0) {
				weight = e.Weight
			}
		}
		if weight == nil {
			return best{}, false
		}
		b.pairs++
		for k := range weight {
			b.total[k] += weight[k]
		}
	}
	return b, true
}

// vectors writes plain edges as edges with weights of one word.
func vectors(edges []Edge) []VectorEdge {
	all := make([]VectorEdge, len(edges))
	for i, e := range edges {
		all[i] = VectorEdge{e.U, e.V, []int64{e.Weight}}
	}
	return all
}
