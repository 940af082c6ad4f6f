package matching_test

import (
	"fmt"

	"benchmeet/bracket/matching"
)

// On a path of three edges the middle one weighs more than the other two, which make two pairs.
func ExampleMaxWeight() {
	edges := []matching.Edge{{U: 0, V: 1, Weight: 5}, {U: 1, V: 2, Weight: 11}, {U: 2, V: 3, Weight: 5}}
	fmt.Println(matching.MaxWeight(4, edges, false))
	fmt.Println(matching.MaxWeight(4, edges, true))
	// Output:
	// [-1 2 1 -1]
	// [1 0 3 2]
}

// Four entries: first as few rematches as possible, then as few points apart as possible. Costs are negative
// weights, and everybody is to be paired.
func ExampleSolveVectors() {
	cost := func(u, v int, rematch, apart int64) matching.VectorEdge {
		return matching.VectorEdge{U: u, V: v, Weight: []int64{-rematch, -apart}}
	}
	mate, err := matching.SolveVectors(4, 2, []matching.VectorEdge{
		cost(0, 1, 1, 0), cost(2, 3, 0, 0), // 0 and 1 have met
		cost(0, 2, 0, 2), cost(1, 3, 0, 2),
		cost(0, 3, 0, 3), cost(1, 2, 0, 3),
	}, true)
	fmt.Println(mate, err)
	// Output:
	// [2 3 0 1] <nil>
}

func ExampleCertificate_Verify() {
	edges := []matching.Edge{{U: 0, V: 1, Weight: 8}, {U: 0, V: 2, Weight: 9}, {U: 1, V: 2, Weight: 10}, {U: 2, V: 3, Weight: 7}}
	mate, proof, err := matching.Prove(4, edges, false)
	fmt.Println(mate, err)
	fmt.Println(proof.Verify(4, edges, mate, false))
	fmt.Println(proof.Verify(4, edges, []int{2, -1, 0, -1}, false))
	// Output:
	// [1 0 3 2] <nil>
	// <nil>
	// matching: vertex 1 is single and its dual is not zero
}
