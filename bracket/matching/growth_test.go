package matching

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// hardFamilies are graphs that need many trees, many blossoms or deep nests of them. That of the higher number is
// the hardest known: a stage for every second vertex, and each looks at all edges.
var hardFamilies = []struct {
	name string
	edge func(r *rand.Rand, n, u, v int) (weight int64, ok bool) // u > v
}{
	{"the higher number", func(_ *rand.Rand, _, u, _ int) (int64, bool) { return int64(u + 1), true }},
	{"sum", func(_ *rand.Rand, _, u, v int) (int64, bool) { return int64(u + v), true }},
	{"product", func(_ *rand.Rand, _, u, v int) (int64, bool) { return int64((u + 1) * (v + 1)), true }},
	{"cycle", func(_ *rand.Rand, n, u, v int) (int64, bool) { return 10, u-v == 1 || u-v == n-1 }},
	{"one or two", func(r *rand.Rand, _, _, _ int) (int64, bool) { return 1 + r.Int64N(2), true }},
	{"sparse", func(r *rand.Rand, n, _, _ int) (int64, bool) { return 1, r.IntN(n) < 3 }},
	{"triangles", func(r *rand.Rand, n, u, v int) (int64, bool) {
		if u/3 == v/3 {
			return 1000, true
		}
		return 1 + r.Int64N(100), r.IntN(n) < 6
	}},
	{"nested fives", func(r *rand.Rand, _, u, v int) (int64, bool) {
		switch {
		case u/5 == v/5:
			return 100_000 + r.Int64N(10), true
		case u/25 == v/25:
			return 50_000 + r.Int64N(10), true
		case u/125 == v/125:
			return 20_000 + r.Int64N(100), true
		}
		return 1 + r.Int64N(10_000), true
	}},
}

func hardEdges(family, n int) []Edge {
	r := rand.New(rand.NewPCG(uint64(n), uint64(family)))
	var edges []Edge
	for u := range n {
		for v := range u {
			if w, ok := hardFamilies[family].edge(r, n, u, v); ok {
				edges = append(edges, Edge{u, v, w})
			}
		}
	}
	return edges
}

func stepsOf(t *testing.T, n int, edges []Edge, maxCardinality bool) (steps int64, stages int) {
	t.Helper()
	s, err := solveScalar(n, edges, maxCardinality)
	if err != nil {
		t.Fatal(err)
	}
	return s.steps, s.stages
}

// The bound is n stages of O(n^2) steps; the constants are held here, whatever the graph.
func TestStepsOfAStage(t *testing.T) {
	for i, f := range hardFamilies {
		for _, n := range []int{31, 64, 127, 256} {
			for _, maxCardinality := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s/%d/most pairs %t", f.name, n, maxCardinality), func(t *testing.T) {
					edges := hardEdges(i, n)
					steps, stages := stepsOf(t, n, edges, maxCardinality)
					if stages > n {
						t.Errorf("%d stages for %d vertices", stages, n)
					}
					if most := int64(4*n*n) * int64(stages+1); steps > most {
						t.Errorf("%d steps in %d stages, more than %d", steps, stages, most)
					}
				})
			}
		}
	}
}

func TestHardFamilies(t *testing.T) {
	for i, f := range hardFamilies {
		for _, n := range []int{31, 64, 127} {
			t.Run(fmt.Sprintf("%s/%d", f.name, n), func(t *testing.T) {
				edges := hardEdges(i, n)
				_, weight := check(t, n, edges, false)
				_, pairs := check(t, n, edges, true)
				if pairs.pairs < weight.pairs || pairs.total[0] > weight.total[0] {
					t.Errorf("most weight %v, most pairs %v", weight, pairs)
				}
			})
		}
	}
}

// Twice the vertices take at most about eight times the steps: the inner loops are counted, not timed.
func TestGrowthPerDoubling(t *testing.T) {
	growth := func(edges func(n, instance int) []Edge, instances, n int) float64 {
		var steps [2]int64
		for instance := range instances {
			for i := range steps {
				one, _ := stepsOf(t, n<<i, edges(n<<i, instance), false)
				steps[i] += one
			}
		}
		return float64(steps[1]) / float64(steps[0])
	}
	for _, f := range families {
		for _, n := range []int{64, 128, 256} {
			t.Run(fmt.Sprintf("%s/%d", f.name, n), func(t *testing.T) {
				got := growth(func(n, instance int) []Edge { return f.edges(n, instance) }, 8, n)
				if got > 8 {
					t.Errorf("%d to %d vertices take %.2f times the steps", n, 2*n, got)
				}
			})
		}
	}
	for i, f := range hardFamilies[:2] {
		for _, n := range []int{64, 128, 256} {
			t.Run(fmt.Sprintf("%s/%d", f.name, n), func(t *testing.T) {
				if got := growth(func(n, _ int) []Edge { return hardEdges(i, n) }, 1, n); got > 8.1 {
					t.Errorf("%d to %d vertices take %.2f times the steps", n, 2*n, got)
				}
			})
		}
	}
}

// The main loop allocates nothing but rows for blossoms, which are kept.
func TestAllocations(t *testing.T) {
	for _, n := range []int{64, 256} {
		edges := uniformEdges(n, 0)
		s, err := solveScalar(n, edges, false)
		if err != nil {
			t.Fatal(err)
		}
		most := float64(45 + 3*len(s.rows.all))
		if got := testing.AllocsPerRun(3, func() { MaxWeight(n, edges, false) }); got > most {
			t.Errorf("%d vertices: %.0f allocations, more than %.0f", n, got, most)
		}
	}
}
