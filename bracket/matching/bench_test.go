package matching

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// uniformEdges is a complete graph with weights drawn evenly up to a million.
func uniformEdges(n int) []Edge {
	r := rand.New(rand.NewPCG(uint64(n), 1))
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
func swissEdges(n int) []Edge {
	r := rand.New(rand.NewPCG(uint64(n), 2))
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
	edges func(n int) []Edge
}{{"uniform", uniformEdges}, {"swiss", swissEdges}}

func BenchmarkMaxWeight(b *testing.B) {
	for _, f := range families {
		for _, n := range []int{64, 256, 1024, 2048} {
			edges := f.edges(n)
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

// A word for every rule of a Swiss round: rematch, points apart, sides, the distance from the ideal place.
func BenchmarkSolveVectors(b *testing.B) {
	for _, n := range []int{64, 256, 512} {
		plain := swissEdges(n)
		for _, words := range []int{2, 4, 8} {
			edges := make([]VectorEdge, len(plain))
			for i, e := range plain {
				w := make([]int64, 8)
				w[0] = -(100_000 - e.Weight) / 90_000
				w[1] = -((100_000 - e.Weight) % 90_000) / 100
				w[7] = -int64((e.V - e.U - n/2) * (e.V - e.U - n/2))
				edges[i] = VectorEdge{e.U, e.V, slices.Concat(w[:words-1], w[7:])}
			}
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
