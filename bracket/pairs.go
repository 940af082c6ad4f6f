package bracket

import "benchmeet/bracket/matching"

// solve returns the pairing of the field that costs least, rule by rule: the index of each one's partner, or the
// length of the field for the bye. It is the perfect matching of greatest weight where every pair weighs less by
// what it costs, found in O(n^3) time with memory for the costs of all pairs.
func (s *swiss) solve() ([]int, error) {
	n := len(s.field)
	p := s.pack()
	even := n + n%2
	edges := make([]matching.VectorEdge, 0, even*(even-1)/2)
	for v := range n {
		for w := v + 1; w < even; w++ {
			var weight []int64
			if w == n {
				weight = p.byeOf(v)
			} else {
				weight = p.pair(v, w)
			}
			for i := range weight {
				weight[i] = -weight[i]
			}
			edges = append(edges, matching.VectorEdge{U: v, V: w, Weight: weight})
		}
	}
	mate, err := matching.SolveVectors(even, p.words, edges, true)
	if err != nil {
		return nil, err
	}
	return mate[:n], nil
}
