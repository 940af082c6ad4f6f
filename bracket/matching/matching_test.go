package matching

import (
	"bufio"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// check solves, verifies the certificate and returns the matching and its total.
func check(t *testing.T, n int, edges []Edge, maxCardinality bool) (mate []int, got best) {
	t.Helper()
	mate, proof, err := Prove(n, edges, maxCardinality)
	if err != nil {
		t.Fatal(err)
	}
	if err := proof.Verify(n, edges, mate, maxCardinality); err != nil {
		t.Fatalf("the certificate does not hold: %v\nedges %v\nmate %v\n%+v", err, edges, mate, proof)
	}
	got, ok := totalOf(n, 1, vectors(edges), mate)
	if !ok {
		t.Fatalf("%v is not a matching of %v", mate, edges)
	}
	return mate, got
}

// Source: unit tests of networkx max_weight_matching, which restate those of van Rantwijk's mwmatching; optima,
// uniqueness and the variant with the most pairs confirmed by exhaustive enumeration.
func TestReferenceGraphs(t *testing.T) {
	type expected struct {
		Matching [][2]int
		Weight   int64
		Size     int
		Unique   bool
	}
	var file struct {
		Graphs map[string]struct {
			expected
			Edges          [][3]int64
			MaxCardinality expected `json:"max_cardinality"`
		}
	}
	b, err := os.ReadFile("testdata/graphs.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Graphs) != 14 {
		t.Fatalf("%d graphs instead of 14", len(file.Graphs))
	}
	for name, g := range file.Graphs {
		n := 0
		var edges []Edge
		for _, e := range g.Edges {
			edges = append(edges, Edge{int(e[0]), int(e[1]), e[2]})
			n = max(n, int(e[0])+1, int(e[1])+1)
		}
		for mode, want := range map[string]expected{"weight": g.expected, "most pairs": g.MaxCardinality} {
			t.Run(name+"/"+mode, func(t *testing.T) {
				want.Size = len(want.Matching)
				mate, got := check(t, n, edges, mode == "most pairs")
				if got.total[0] != want.Weight || got.pairs != want.Size {
					t.Errorf("%d pairs weigh %d, want %d that weigh %d", got.pairs, got.total[0], want.Size, want.Weight)
				}
				wantMate := slices.Repeat([]int{-1}, n)
				for _, p := range want.Matching {
					wantMate[p[0]], wantMate[p[1]] = p[1], p[0]
				}
				if diff := cmp.Diff(wantMate, mate); want.Unique && diff != "" {
					t.Errorf("matching (-want +got):\n%s", diff)
				}
			})
		}
	}
}

// readGraph reads n and the lines "i j weight" of a gzipped file.
func readGraph(t testing.TB, name string) (n int, edges []Edge) {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".txt.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewScanner(z)
	lines.Scan()
	if n, err = strconv.Atoi(lines.Text()); err != nil {
		t.Fatal(err)
	}
	for lines.Scan() {
		var e Edge
		if _, err := fmt.Sscan(lines.Text(), &e.U, &e.V, &e.Weight); err != nil {
			t.Fatal(err)
		}
		edges = append(edges, e)
	}
	return n, edges
}

// Source: totals on which two or three independent graph libraries agree, named in the file.
func TestReferenceTotals(t *testing.T) {
	b, err := os.ReadFile("testdata/optimal.tsv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")[2:]
	if len(lines) != 4 {
		t.Fatalf("%d totals instead of 4", len(lines))
	}
	for _, line := range lines {
		cells := strings.Split(line, "\t")
		t.Run(cells[0], func(t *testing.T) {
			n, edges := readGraph(t, cells[0])
			for _, maxCardinality := range []bool{false, true} { // All weights are positive: the totals are equal.
				_, got := check(t, n, edges, maxCardinality)
				if s := fmt.Sprint(got.total[0]); s != cells[2] || got.pairs != n/2 {
					t.Errorf("%d pairs weigh %s, want %d that weigh %s", got.pairs, s, n/2, cells[2])
				}
			}
		})
	}
}

// randomEdges draws a graph of up to 10 vertices: any density, with ties, negative weights and parallel edges.
func randomEdges(r *rand.Rand, words int) (n int, edges []VectorEdge) {
	n = r.IntN(11)
	density := r.Float64()
	spread := []int64{1, 2, 3, 10, 1000, 1 << 40}[r.IntN(6)]
	below := []int64{0, 0, spread / 2, spread}[r.IntN(4)]
	for u := range n {
		for v := range n {
			if u > v && r.IntN(20) > 0 || r.Float64() > density {
				continue
			}
			e := VectorEdge{u, v, make([]int64, words)}
			for k := range e.Weight {
				e.Weight[k] = r.Int64N(spread+1) - below
			}
			edges = append(edges, e)
		}
	}
	return n, edges
}

func TestAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 10_000 {
		n, all := randomEdges(r, 1)
		edges := make([]Edge, len(all))
		for i, e := range all {
			edges[i] = Edge{e.U, e.V, e.Weight[0]}
		}
		for _, maxCardinality := range []bool{false, true} {
			want := brute(n, 1, all, maxCardinality)
			_, got := check(t, n, edges, maxCardinality)
			if got.total[0] != want.total[0] || maxCardinality && got.pairs != want.pairs {
				t.Fatalf("graph %d (most pairs %t): %d pairs weigh %d, want %d that weigh %d: %v",
					i, maxCardinality, got.pairs, got.total[0], want.pairs, want.total[0], edges)
			}
		}
	}
}
