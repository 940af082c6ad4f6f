package matching

import "errors"

// Certificate proves that a matching is the best: it is a solution of the dual linear program of Edmonds (1965).
// With it every edge has a slack, the duals of its ends and of the sets that hold both, less its doubled weight.
type Certificate struct {
	// Words is the number of words of a weight, 1 for plain weights.
	Words int
	// Bonus was added to the first word of every doubled weight where the most pairs were asked for, else it is 0.
	Bonus int64
	// Vertex holds Words numbers for each vertex, its dual, in the unit of doubled weights.
	Vertex []int64
	// Sets are the blossoms whose dual is not zero.
	Sets []OddSet
}

// OddSet is a set of an odd number of vertices, of which at most (number-1)/2 edges can be in a matching.
type OddSet struct {
	Vertices []int
	// Dual has as many words as a weight.
	Dual []int64
}

func (s *solver) certificate() Certificate {
	c := Certificate{Words: s.words, Bonus: s.bonus, Vertex: s.value.cells}
	for b := s.n; b < len(s.parent); b++ {
		if s.base[b] == none || isZero(s.z.at(int32(b))) {
			continue
		}
		set := OddSet{Dual: s.z.at(int32(b))}
		for y := s.first[b]; ; y = s.chain[y] {
			set.Vertices = append(set.Vertices, int(y))
			if y == s.last[b] {
				break
			}
		}
		c.Sets = append(c.Sets, set)
	}
	return c
}

// Verify returns nil if the certificate proves that mate is a matching of the edges with the greatest weight, with
// maxCardinality among those with the most pairs. It does not trust the search: all that it uses are the edges,
// the matching and the conditions of complementary slackness.
func (c Certificate) Verify(n int, edges []Edge, mate []int, maxCardinality bool) error {
	vectors := make([]VectorEdge, len(edges))
	for i, e := range edges {
		vectors[i] = VectorEdge{e.U, e.V, []int64{e.Weight}}
	}
	return c.VerifyVectors(n, vectors, mate, maxCardinality)
}

// VerifyVectors is [Certificate.Verify] for weights of several words.
func (c Certificate) VerifyVectors(n int, edges []VectorEdge, mate []int, maxCardinality bool) error {
	g, err := newGraph(n, c.Words, len(edges), maxCardinality, func(i int) (u, v int, weight []int64) {
		return edges[i].U, edges[i].V, edges[i].Weight
	})
	if err != nil {
		return err
	}
	if c.Bonus != g.bonus {
		return errors.New("matching: the certificate is for another bonus on pairs")
	}
	if len(mate) != n || len(c.Vertex) != n*c.Words {
		return errors.New("matching: the certificate or the matching is for another number of vertices")
	}
	for v, w := range mate {
		if w != -1 && (w < 0 || w >= n || w == v || mate[w] != v) {
			return refuse(-1, "vertex %d is matched with %d, which is not matched with it", v, w)
		}
	}
	return c.verifySlack(g, mate)
}

func (c Certificate) verifySlack(g *graph, mate []int) error {
	n := g.n
	inside := make([]int64, n*n*c.Words) // The duals of the sets that hold both ends.
	at := func(u, v int) []int64 { return inside[(u*n+v)*c.Words : (u*n+v+1)*c.Words] }
	for i, set := range c.Sets {
		if len(set.Dual) != c.Words || sign(set.Dual) < 0 || !within(set.Dual, valueLimit) {
			return refuse(-1, "the dual of set %d is negative or too large", i)
		}
		member := make([]bool, n)
		for _, v := range set.Vertices {
			if v < 0 || v >= n || member[v] {
				return refuse(-1, "set %d holds vertex %d, which is none or there twice", i, v)
			}
			member[v] = true
		}
		leaving := 0
		for _, v := range set.Vertices {
			if mate[v] < 0 || !member[mate[v]] {
				leaving++
			}
			for _, w := range set.Vertices {
				sum(at(v, w), at(v, w), set.Dual)
				if !within(at(v, w), valueLimit) {
					return refuse(-1, "the duals of the sets around %d and %d are too large", v, w)
				}
			}
		}
		if leaving != 1 {
			return refuse(-1, "set %d has a dual and %d vertices without a partner in it instead of one", i, leaving)
		}
	}
	slack := make([]int64, c.Words)
	for u := range n {
		dual := c.Vertex[u*c.Words : (u+1)*c.Words]
		switch {
		case sign(dual) < 0 || !within(dual, valueLimit):
			return refuse(-1, "the dual of vertex %d is negative or too large", u)
		case mate[u] == -1 && !isZero(dual):
			return refuse(-1, "vertex %d is single and its dual is not zero", u)
		}
		for v := range u {
			w := g.doubled.at(int32(u*n + v))
			sum(slack, dual, c.Vertex[v*c.Words:(v+1)*c.Words])
			sum(slack, slack, at(u, v))
			difference(slack, slack, w)
			switch {
			case sign(slack) < 0:
				return refuse(-1, "the edge %d-%d weighs more than its duals", v, u)
			case mate[u] == v && (sign(w) < 0 || !isZero(slack)):
				return refuse(-1, "the pair %d-%d is no edge or weighs less than its duals", v, u)
			}
		}
	}
	return nil
}
