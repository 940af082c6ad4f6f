package matching

// Edge joins the vertices U and V, which count from 0, with a weight. A matching that takes it gains the weight,
// which may be negative.
type Edge struct {
	U, V   int
	Weight int64
}

// MaxWeight returns the partner of every vertex in a matching of greatest total weight, or -1 for a vertex that is
// left single. With maxCardinality it is the greatest weight among the matchings with the most pairs; without, a
// pair that would lower the total is not made, and one that would leave it may or may not be.
//
// Of parallel edges the best counts, and a loop joins nothing. It panics with the error of [Solve] on input that
// Solve refuses; a caller that cannot vouch for its input calls Solve.
func MaxWeight(n int, edges []Edge, maxCardinality bool) (mate []int) {
	mate, err := Solve(n, edges, maxCardinality)
	if err != nil {
		panic(err)
	}
	return mate
}

// Solve is [MaxWeight] with an error instead of a panic. It refuses a negative n, a vertex that is not in 0..n-1,
// a graph of more than [MaxCells] cells, and weights that could overflow: the greatest absolute weight must be below
// 2^57, and with maxCardinality, which outweighs all weights by a bonus on every pair, (weight+1)*(n+1) must be. The
// errors are of type [*Refusal].
func Solve(n int, edges []Edge, maxCardinality bool) (mate []int, err error) {
	s, err := solveScalar(n, edges, maxCardinality)
	if err != nil {
		return nil, err
	}
	return s.mates(), nil
}

// Prove is [Solve] and the certificate that no matching is better.
func Prove(n int, edges []Edge, maxCardinality bool) (mate []int, proof Certificate, err error) {
	s, err := solveScalar(n, edges, maxCardinality)
	if err != nil {
		return nil, Certificate{}, err
	}
	return s.mates(), s.certificate(), nil
}

func solveScalar(n int, edges []Edge, maxCardinality bool) (*solver, error) {
	one := make([]int64, 1) // One for all edges: newGraph reads it and does not keep it.
	g, err := newGraph(n, 1, len(edges), maxCardinality, func(i int) (u, v int, weight []int64) {
		one[0] = edges[i].Weight
		return edges[i].U, edges[i].V, one
	})
	if err != nil {
		return nil, err
	}
	return solve(g)
}
