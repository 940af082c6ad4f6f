package fairness

import "slices"

// bipartite numbers the benches and cars of a list of runs, in the order in
// which their names sort, so that nothing depends on the order of runs.
type bipartite struct {
	benches, cars  []string
	benchOf, carOf []int     // by run
	met            [][]met   // the benches that each car ran on, in order
	onBench, ofCar []float64 // runs by bench and by car
	owner          []int     // parents of the union-find: benches, then cars
}

func newBipartite(runs []Run) *bipartite {
	g := &bipartite{}
	benchAt, carAt := map[string]int{}, map[string]int{}
	for _, r := range runs {
		benchAt[r.Bench], carAt[r.Car] = 0, 0
	}
	g.benches, g.cars = number(benchAt), number(carAt)
	g.onBench, g.ofCar = make([]float64, len(g.benches)), make([]float64, len(g.cars))
	g.met = make([][]met, len(g.cars))
	g.owner = make([]int, len(g.benches)+len(g.cars))
	for i := range g.owner {
		g.owner[i] = i
	}
	for _, r := range runs {
		b, c := benchAt[r.Bench], carAt[r.Car]
		g.benchOf, g.carOf = append(g.benchOf, b), append(g.carOf, c)
		g.met[c] = count(g.met[c], b)
		g.onBench[b]++
		g.ofCar[c]++
		g.owner[g.root(b)] = g.root(len(g.benches) + c)
	}
	return g
}

// met says how often a car ran on a bench.
type met struct {
	bench int
	runs  float64
}

// count adds a run on a bench to a list in the order of benches.
func count(list []met, bench int) []met {
	i, there := slices.BinarySearchFunc(list, bench, func(m met, bench int) int { return m.bench - bench })
	if !there {
		list = slices.Insert(list, i, met{bench: bench})
	}
	list[i].runs++
	return list
}

// number gives the keys their places in sorted order and returns them.
func number(at map[string]int) []string {
	names := make([]string, 0, len(at))
	for name := range at {
		names = append(names, name)
	}
	slices.Sort(names)
	for i, name := range names {
		at[name] = i
	}
	return names
}

// root finds the group of a bench or car, and shortens the way to it (union-find
// with path halving).
func (g *bipartite) root(i int) int {
	for g.owner[i] != i {
		g.owner[i] = g.owner[g.owner[i]]
		i = g.owner[i]
	}
	return i
}

// groups returns the benches that cars tie together, each group in the order of
// names, the groups in the order of their first benches.
func (g *bipartite) groups() [][]string {
	var out [][]string
	place := map[int]int{}
	for b, name := range g.benches {
		root := g.root(b)
		i, there := place[root]
		if !there {
			i = len(out)
			place[root], out = i, append(out, nil)
		}
		out[i] = append(out[i], name)
	}
	return out
}
