package fairness

import "slices"

// bipartite numbers the benches, rounds and cars of a list of runs, in the order
// in which their names sort, so that nothing depends on the order of runs. Benches
// and rounds are its columns: the benches first. Where all runs are of one round
// there are no columns of rounds.
type bipartite struct {
	benches, rounds, cars   []string
	benchOf, roundOf, carOf []int     // by run; roundOf is a column, or -1
	met                     [][]met   // the columns that each car ran in, in order
	in, ofCar               []float64 // runs by column and by car
	owner                   []int     // parents of the union-find that cars make: columns, then cars
}

func newBipartite(runs []Run) *bipartite {
	g := &bipartite{}
	benchAt, roundAt, carAt := map[string]int{}, map[string]int{}, map[string]int{}
	for _, r := range runs {
		benchAt[r.Bench], roundAt[r.Round], carAt[r.Car] = 0, 0, 0
	}
	g.benches, g.rounds, g.cars = number(benchAt), number(roundAt), number(carAt)
	// A single round cannot be told from the mean of all runs.
	if len(g.rounds) < 2 {
		g.rounds = nil
	}
	p, columns := len(g.benches), len(g.benches)+len(g.rounds)
	g.in, g.ofCar = make([]float64, columns), make([]float64, len(g.cars))
	g.met = make([][]met, len(g.cars))
	g.owner = make([]int, columns+len(g.cars))
	for i := range g.owner {
		g.owner[i] = i
	}
	for _, r := range runs {
		b, c, round := benchAt[r.Bench], carAt[r.Car], -1
		if g.rounds != nil {
			round = p + roundAt[r.Round]
		}
		g.benchOf, g.roundOf, g.carOf = append(g.benchOf, b), append(g.roundOf, round), append(g.carOf, c)
		g.ofCar[c]++
		for _, column := range []int{b, round} {
			if column >= 0 {
				g.met[c] = count(g.met[c], column)
				g.in[column]++
			}
		}
	}
	return g
}

// tie joins the columns from one number up to another by the cars that ran in them.
func (g *bipartite) tie(from, to int) {
	for i := range g.owner {
		g.owner[i] = i
	}
	for c, list := range g.met {
		for _, m := range list {
			if from <= m.column && m.column < to {
				g.owner[g.root(m.column)] = g.root(len(g.in) + c)
			}
		}
	}
}

// met says how often a car ran on a bench or in a round.
type met struct {
	column int
	runs   float64
}

// count adds a run in a column to a list in the order of columns.
func count(list []met, column int) []met {
	i, there := slices.BinarySearchFunc(list, column, func(m met, column int) int { return m.column - column })
	if !there {
		list = slices.Insert(list, i, met{column: column})
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

// root finds the group of a column or car, and shortens the way to it (union-find
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
	g.tie(0, len(g.benches))
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
