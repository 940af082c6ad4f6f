package matching

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// drawGraph draws a graph of up to 24 vertices.
func drawGraph(t *rapid.T) (n int, edges []Edge) {
	n = rapid.IntRange(1, 24).Draw(t, "n")
	lowest := rapid.SampledFrom([]int64{-20, 0, 1}).Draw(t, "lowest")
	highest := rapid.SampledFrom([]int64{2, 20, 1_000_000}).Draw(t, "highest")
	vertex := rapid.IntRange(0, n-1)
	return n, rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Edge {
		return Edge{vertex.Draw(t, "u"), vertex.Draw(t, "v"), rapid.Int64Range(lowest, highest).Draw(t, "weight")}
	}), 0, 3*n).Draw(t, "edges")
}

// solved solves, verifies the certificate and adds up.
func solved(t *rapid.T, n int, edges []Edge, maxCardinality bool) (mate []int, got best) {
	mate, proof, err := Prove(n, edges, maxCardinality)
	if err != nil {
		t.Fatal(err)
	}
	if err := proof.Verify(n, edges, mate, maxCardinality); err != nil {
		t.Fatal(err)
	}
	got, ok := totalOf(n, 1, vectors(edges), mate)
	if !ok {
		t.Fatalf("%v is not a matching", mate)
	}
	return mate, got
}

func TestPermutingVerticesKeepsTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		maxCardinality := rapid.Bool().Draw(t, "most pairs")
		number := make([]int, n)
		for v := range number {
			number[v] = v
		}
		number = rapid.Permutation(number).Draw(t, "permutation")
		other := slices.Clone(edges)
		for i, e := range edges {
			other[i] = Edge{number[e.U], number[e.V], e.Weight}
		}
		_, want := solved(t, n, edges, maxCardinality)
		_, got := solved(t, n, other, maxCardinality)
		if got.total[0] != want.total[0] || maxCardinality && got.pairs != want.pairs {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}

func TestOrderOfEdgesChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		maxCardinality := rapid.Bool().Draw(t, "most pairs")
		other := rapid.Permutation(edges).Draw(t, "order")
		for i := range other {
			if rapid.Bool().Draw(t, "swap") {
				other[i].U, other[i].V = other[i].V, other[i].U
			}
		}
		want, _ := solved(t, n, edges, maxCardinality)
		got, _ := solved(t, n, other, maxCardinality)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("(-want +got):\n%s", diff)
		}
	})
}

func TestAddingAConstantAddsItForEachPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		c := rapid.Int64Range(-1000, 1000).Draw(t, "constant")
		other := slices.Clone(edges)
		for i := range other {
			other[i].Weight += c
		}
		_, want := solved(t, n, edges, true)
		_, got := solved(t, n, other, true)
		if got.pairs != want.pairs || got.total[0] != want.total[0]+c*int64(want.pairs) {
			t.Fatalf("with %d more for each pair %v became %v", c, want, got)
		}
	})
}

func TestScalingKeepsTheMatching(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		factor := rapid.Int64Range(1, 1000).Draw(t, "factor")
		other := slices.Clone(edges)
		for i := range other {
			other[i].Weight *= factor
		}
		want, _ := solved(t, n, edges, false)
		got, _ := solved(t, n, other, false)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("times %d (-want +got):\n%s", factor, diff)
		}
	})
}

func TestMostPairsAgainstMostWeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		_, weight := solved(t, n, edges, false)
		_, pairs := solved(t, n, edges, true)
		if pairs.pairs < weight.pairs || pairs.total[0] > weight.total[0] || weight.total[0] < 0 {
			t.Fatalf("most weight %v, most pairs %v", weight, pairs)
		}
	})
}

// Taking away what was not used changes no total, taking away what was used never raises it.
func TestRemovingAnEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, edges := drawGraph(t)
		if len(edges) == 0 {
			return
		}
		mate, before := solved(t, n, edges, false)
		i := rapid.IntRange(0, len(edges)-1).Draw(t, "edge")
		used := mate[edges[i].U] == edges[i].V
		_, after := solved(t, n, slices.Delete(slices.Clone(edges), i, i+1), false)
		if after.total[0] > before.total[0] || !used && after.total[0] != before.total[0] {
			t.Fatalf("from %v to %v without edge %d", before, after, i)
		}
	})
}

// Later words near the limit are refused or right, never wrong.
func TestLargeLaterWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 9).Draw(t, "n")
		maxCardinality := rapid.Bool().Draw(t, "most pairs")
		const most = 1<<57 - 1
		var edges []VectorEdge
		for u := range n {
			for v := range u {
				edges = append(edges, VectorEdge{u, v, []int64{
					rapid.Int64Range(0, 3).Draw(t, "first"), rapid.Int64Range(-most, most).Draw(t, "second"),
				}})
			}
		}
		mate, proof, err := ProveVectors(n, 2, edges, maxCardinality)
		if refusal := (*Refusal)(nil); errors.As(err, &refusal) {
			return
		}
		if err := proof.VerifyVectors(n, edges, mate, maxCardinality); err != nil {
			t.Fatal(err)
		}
		want := brute(n, 2, edges, maxCardinality)
		if got, ok := totalOf(n, 2, edges, mate); !ok || !slices.Equal(got.total, want.total) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}

func FuzzSolve(f *testing.F) {
	f.Add([]byte{4, 1, 2, 5, 0, 2, 3, 11, 0, 0, 3, 5, 0}, true)
	f.Add([]byte{7, 0, 1, 9, 0, 0, 2, 9, 0, 1, 2, 10, 0, 1, 3, 8, 0, 2, 4, 8, 0, 3, 4, 10, 0, 4, 5, 6, 0}, false)
	f.Add([]byte{3, 0, 0, 100, 0, 1, 9, 1, 1}, false)
	f.Fuzz(func(t *testing.T, data []byte, maxCardinality bool) {
		if len(data) == 0 {
			return
		}
		n := int(data[0]) % 16
		var edges []Edge
		bad := -1
		for d := data[1:]; len(d) >= 4; d = d[4:] {
			e := Edge{int(int8(d[0])), int(int8(d[1])), int64(int8(d[2])) << (d[3] % 64)}
			if bad < 0 && (e.U < 0 || e.U >= n || e.V < 0 || e.V >= n || e.Weight >= 1<<57 || e.Weight <= -1<<57) {
				bad = len(edges)
			}
			edges = append(edges, e)
		}
		mate, proof, err := Prove(n, edges, maxCardinality)
		var refusal *Refusal
		switch {
		case errors.As(err, &refusal):
			if refusal.Edge != bad {
				t.Fatalf("edge %d was refused instead of %d: %v", refusal.Edge, bad, err)
			}
			return
		case err != nil || bad >= 0:
			t.Fatalf("edge %d is bad, the error is %v", bad, err)
		}
		if err := proof.Verify(n, edges, mate, maxCardinality); err != nil {
			t.Fatal(err)
		}
		want := brute(min(n, 12), 1, vectors(edges), maxCardinality)
		got, ok := totalOf(n, 1, vectors(edges), mate)
		if !ok || n <= 12 && (got.total[0] != want.total[0] || maxCardinality && got.pairs != want.pairs) {
			t.Fatalf("got %v, want %v", got, want)
		}
	})
}
