package matching

import "fmt"

// MaxCells bounds the memory that a graph may take: n times n times the words of a weight, 8 bytes each.
const MaxCells = 1 << 27

const (
	// weightLimit bounds a doubled weight, and with it every dual in the first word, because duals are not negative
	// and those of a matched edge add up to its weight.
	weightLimit = 1 << 58
	// valueLimit bounds duals and delta in all words. The search adds at most six such values.
	valueLimit = 1 << 59
	// never is a first word later than any event of a stage; beyond stays later after a weight is taken from it,
	// and two of it can be added.
	never  = 1 << 60
	beyond = 1 << 61
	// absent is the doubled weight of a pair without an edge. Being negative is enough: duals are not negative,
	// so that such an edge is never tight.
	absent = -2
)

// Refusal is the error for a graph that cannot be solved. Nothing was changed.
type Refusal struct {
	// Edge is the index of the edge that was refused, or -1 where it is not one edge.
	Edge int
	// Reason is a sentence without its full stop that says what to change.
	Reason string
}

// Error gives the reason and, where there is one, the edge.
func (r *Refusal) Error() string {
	if r.Edge < 0 {
		return "matching: " + r.Reason
	}
	return fmt.Sprintf("matching: edge %d: %s", r.Edge, r.Reason)
}

func refuse(edge int, format string, args ...any) error {
	return &Refusal{edge, fmt.Sprintf(format, args...)}
}

// tooLarge is refused while solving; weights of one word are bounded before.
func tooLarge() error {
	return refuse(-1, "the weights are too large to be added up safely; make them smaller or spread them over more words")
}

// graph is a dense matrix of doubled weights. Doubling keeps every dual whole: the vertices of one tree are joined
// by tight edges of even weight, so their duals are all odd or all even, and half the slack of an edge between two
// of them is whole.
type graph struct {
	n, words int
	doubled  column
	// bonus is what was added to the first word of every doubled weight so that one more pair outweighs anything.
	bonus int64
}

func newGraph(n, words, count int, maxCardinality bool, edge func(i int) (u, v int, weight []int64)) (*graph, error) {
	switch {
	case n < 0:
		return nil, refuse(-1, "a graph cannot have %d vertices", n)
	case words < 1:
		return nil, refuse(-1, "a weight needs at least one word, not %d", words)
	case n > 0 && words > MaxCells/n/n:
		return nil, refuse(-1, "%d vertices with weights of %d words are too many: at most %d cells", n, words, MaxCells)
	}
	largest := int64(0)
	for i := range count {
		u, v, weight := edge(i)
		switch {
		case u < 0 || u >= n:
			return nil, refuse(i, "vertex %d is not one of the %d, which count from 0", u, n)
		case v < 0 || v >= n:
			return nil, refuse(i, "vertex %d is not one of the %d, which count from 0", v, n)
		case len(weight) != words:
			return nil, refuse(i, "the weight has %d words instead of %d", len(weight), words)
		case !within(weight, weightLimit/2-1):
			return nil, refuse(i, "the weight must stay between -2^57 and 2^57")
		}
		largest = max(largest, weight[0], -weight[0])
	}
	g := &graph{n: n, words: words, doubled: newColumn(words, n*n)}
	if maxCardinality {
		g.bonus = bonusFor(n, largest)
		if g.bonus < 0 {
			return nil, refuse(-1, "a weight of %d is too large for the most pairs of %d vertices: "+
				"%d times the weight must stay below 2^57", largest, n, n+1)
		}
	}
	g.doubled.fill(absent)
	twice := make([]int64, words)
	for i := range count {
		u, v, weight := edge(i)
		if u == v {
			continue
		}
		for k, w := range weight {
			twice[k] = 2 * w
		}
		twice[0] += g.bonus
		if sign(twice) < 0 {
			continue // It never gains anything, and as absent it is the same to the search.
		}
		if cell := g.doubled.at(int32(u*n + v)); less(cell, twice) {
			set(cell, twice)
			set(g.doubled.at(int32(v*n+u)), twice)
		}
	}
	return g, nil
}

// bonusFor returns a bonus on a doubled weight that outweighs all that the weights of a matching can differ by, or
// -1 where it would be too large: of two matchings of n vertices the larger of which has k+1 pairs, 2k+1 < n
// weights differ.
func bonusFor(n int, largest int64) int64 {
	if largest > (weightLimit/2-1)/int64(n+1)-1 {
		return -1
	}
	return 2 * (int64(n)*largest + 1)
}

// row returns the weights of the edges of a vertex.
func (g *graph) row(v int32) []int64 {
	width := g.n * g.words
	return g.doubled.cells[int(v)*width : (int(v)+1)*width : (int(v)+1)*width]
}
