package matching

// VectorEdge joins the vertices U and V, which count from 0, with a weight of several words. Weights are added word
// by word and compared by the first word in which they differ, so that any gain in an early word outweighs all
// later words.
type VectorEdge struct {
	U, V   int
	Weight []int64
}

// SolveVectors is [Solve] for weights of the given number of words. The total is the greatest in lexicographic
// order. The cost grows with the words that must be looked at to tell two weights apart, at most words times that
// of Solve.
//
// It refuses what Solve refuses, a weight that has not exactly that many words, and later words whose sums could
// overflow, which is noticed while solving and never passed over. The first word bounds its duals but not those of
// the later words, which may be sums of weights along a path: later words below 2^57 divided by n are safe in
// practice (the largest sum seen was some 30 weights). Put less into a word and use more words if it refuses.
func SolveVectors(n, words int, edges []VectorEdge, maxCardinality bool) (mate []int, err error) {
	s, err := solveVectors(n, words, edges, maxCardinality)
	if err != nil {
		return nil, err
	}
	return s.mates(), nil
}

// ProveVectors is [SolveVectors] and the certificate that no matching is better.
func ProveVectors(n, words int, edges []VectorEdge, maxCardinality bool) (mate []int, proof Certificate, err error) {
	s, err := solveVectors(n, words, edges, maxCardinality)
	if err != nil {
		return nil, Certificate{}, err
	}
	return s.mates(), s.certificate(), nil
}

func solveVectors(n, words int, edges []VectorEdge, maxCardinality bool) (*solver, error) {
	g, err := newGraph(n, words, len(edges), maxCardinality, func(i int) (u, v int, weight []int64) {
		return edges[i].U, edges[i].V, edges[i].Weight
	})
	if err != nil {
		return nil, err
	}
	return solve(g)
}
