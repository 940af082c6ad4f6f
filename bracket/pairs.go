package bracket

import "benchmeet/bracket/matching"

// solve returns the best pairing of the field, rule by rule: the index of each one's partner, or the length of the
// field for the bye.
//
// The rule of the smallest score differences would take a criterion for every difference that two in the field can
// have, and memory for it. So it is weighed only where it can matter. The leavers of each group settle the sum of the
// differences, so where everybody who leaves a group meets the group next to it, no other pairing with the same
// leavers has smaller ones: one that saves a pair of neighbours makes a pair of strangers instead, whose difference is
// the sum. Where somebody goes further, the field is paired again with a criterion for each difference up to the
// largest of that first pairing, which no better one exceeds.
func (s *swiss) solve() ([]int, error) {
	mate, err := s.match()
	if err != nil {
		return nil, err
	}
	if s.differences = s.differencesToWeigh(mate); len(s.differences) == 0 {
		return mate, nil
	}
	return s.match()
}

// match returns the pairing that costs least by the criteria. It is the perfect matching of greatest weight where
// every pair weighs less by what it costs, found in O(n^3) time with memory for the costs of all pairs.
func (s *swiss) match() ([]int, error) {
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
