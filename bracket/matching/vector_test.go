package matching

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// checkVectors is check for weights of several words.
func checkVectors(t *testing.T, n, words int, edges []VectorEdge, maxCardinality bool) (mate []int, got best) {
	t.Helper()
	mate, proof, err := ProveVectors(n, words, edges, maxCardinality)
	if err != nil {
		t.Fatal(err)
	}
	if err := proof.VerifyVectors(n, edges, mate, maxCardinality); err != nil {
		t.Fatalf("the certificate does not hold: %v\nedges %v\nmate %v\n%+v", err, edges, mate, proof)
	}
	got, ok := totalOf(n, words, edges, mate)
	if !ok {
		t.Fatalf("%v is not a matching of %v", mate, edges)
	}
	return mate, got
}

func TestVectorsAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 3_000 {
		words := 1 + r.IntN(4)
		n, edges := randomEdges(r, words)
		for _, maxCardinality := range []bool{false, true} {
			want := brute(n, words, edges, maxCardinality)
			_, got := checkVectors(t, n, words, edges, maxCardinality)
			if !slices.Equal(got.total, want.total) || maxCardinality && got.pairs != want.pairs {
				t.Fatalf("graph %d (most pairs %t): %d pairs weigh %d, want %d that weigh %d: %v",
					i, maxCardinality, got.pairs, got.total, want.pairs, want.total, edges)
			}
		}
	}
}

// One number of base 1000 with three digits must lead to the same totals as three words, on graphs too large for
// brute force. The sum of 20 weights below 50 stays below 1000.
func TestVectorsAgainstOneNumber(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		n := 12 + r.IntN(29)
		most := 1 + r.Int64N(49)
		var edges []VectorEdge
		var numbers []Edge
		for u := range n {
			for v := range u {
				w := []int64{r.Int64N(most + 1), r.Int64N(most + 1), r.Int64N(most + 1)}
				edges = append(edges, VectorEdge{u, v, w})
				numbers = append(numbers, Edge{u, v, w[0]*1_000_000 + w[1]*1000 + w[2]})
			}
		}
		for _, maxCardinality := range []bool{false, true} {
			_, got := checkVectors(t, n, 3, edges, maxCardinality)
			_, number := check(t, n, numbers, maxCardinality)
			total := number.total[0]
			want := []int64{total / 1_000_000, total / 1000 % 1000, total % 1000}
			if diff := cmp.Diff(want, got.total); diff != "" {
				t.Fatalf("n %d, weights up to %d (-want +got):\n%s", n, most, diff)
			}
		}
	}
}

// Plain weights and weights of one word take the same way, and words of zeros change nothing.
func TestWordsOfZerosChangeNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		n, one := randomEdges(r, 1)
		edges := make([]Edge, len(one))
		padded := make([]VectorEdge, len(one))
		for i, e := range one {
			edges[i] = Edge{e.U, e.V, e.Weight[0]}
			padded[i] = VectorEdge{e.U, e.V, []int64{e.Weight[0], 0, 0}}
		}
		mate, _ := check(t, n, edges, false)
		same, _ := checkVectors(t, n, 3, padded, false)
		if diff := cmp.Diff(mate, same); diff != "" {
			t.Fatalf("%v (-plain +padded):\n%s", edges, diff)
		}
	}
}
