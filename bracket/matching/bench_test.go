package matching

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// uniformEdges is a complete graph with weights drawn evenly up to a million.
func uniformEdges(n, instance int) []Edge {
	r := rand.New(rand.NewPCG(uint64(n), uint64(instance)))
	var edges []Edge
	for u := range n {
		for v := u + 1; v < n; v++ {
			edges = append(edges, Edge{u, v, 1 + r.Int64N(1_000_000)})
		}
	}
	return edges
}

// swissEdges is a complete graph like a late round of a Swiss: nine scores, a great loss for points apart, a small
// one for a side that both are due, and a pair in ten met before. It has very many ties.
func swissEdges(n, instance int) []Edge {
	r := rand.New(rand.NewPCG(uint64(n), uint64(instance)))
	score, side := make([]int64, n), make([]int64, n)
	for i := range n {
		for range 8 {
			score[i] += r.Int64N(2)
		}
		side[i] = r.Int64N(3) - 1
	}
	var edges []Edge
	for u := range n {
		for v := u + 1; v < n; v++ {
			apart := score[u] - score[v]
			w := 100_000 - 100*apart*apart - 10*max(side[u]*side[v], 0)
			if r.IntN(10) == 0 {
				w -= 90_000
			}
			edges = append(edges, Edge{u, v, w})
		}
	}
	return edges
}

var families = []struct {
	name  string
	edges func(n, instance int) []Edge
}{{"uniform", uniformEdges}, {"swiss", swissEdges}}

func BenchmarkMaxWeight(b *testing.B) {
	for _, f := range families {
		for _, n := range []int{64, 256, 1024, 2048} {
			edges := f.edges(n, 0)
			b.Run(fmt.Sprintf("%s/%d", f.name, n), func(b *testing.B) {
				for b.Loop() {
					MaxWeight(n, edges, false)
				}
				s, err := solveScalar(n, edges, false)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(s.steps)/float64(n*n), "steps/n²")
				b.ReportMetric(float64(s.stages), "stages")
			})
		}
	}
}

// swissVectors is a complete graph with a cost for each rule of a late Swiss round, shared out over the words, as a
// pairing of all entries at once asks for it: met before, both due one side, leaving each score group downward,
// and in the last word the distance from the ideal opponent. All weights are costs: ask for the most pairs.
func swissVectors(n, words int) []VectorEdge {
	r := rand.New(rand.NewPCG(uint64(n), 3))
	const rounds = 9
	score, side := make([]int, n), make([]int, n)
	for i := range n {
		for range rounds {
			score[i] += r.IntN(2)
		}
		side[i] = r.IntN(3) - 1
	}
	slices.SortFunc(score, func(a, b int) int { return b - a })
	var size [rounds + 1]int
	for _, s := range score {
		size[s]++
	}
	var edges []VectorEdge
	for u := range n {
		for v := u + 1; v < n; v++ {
			met, clash := r.IntN(n) < rounds, side[u]*side[v] > 0
			rules := []bool{met, clash}
			for g := rounds; g > 0; g-- {
				rules = append(rules, score[u] >= g && score[v] < g)
			}
			w := make([]int64, words)
			per := (len(rules) + words - 2) / (words - 1)
			for i, broken := range rules { // 10 bits each hold the most that half of 1024 entries can cost.
				w[i/per] <<= 10
				if broken {
					w[i/per]--
				}
			}
			d := int64(v - u)
			if score[u] == score[v] {
				d -= int64(size[score[u]] / 2)
			}
			w[words-1] = -d * d
			edges = append(edges, VectorEdge{u, v, w})
		}
	}
	return edges
}

func BenchmarkSolveVectors(b *testing.B) {
	for _, n := range []int{64, 256, 512} {
		for _, words := range []int{4, 12} {
			edges := swissVectors(n, words)
			b.Run(fmt.Sprintf("%d/%d words", n, words), func(b *testing.B) {
				for b.Loop() {
					if _, err := SolveVectors(n, words, edges, true); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
