package bracket

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// transpositions calls visit with the orders of the bottom half in the order in which the rule book tries them against
// the top half: ascending, compared number by number, the identity first. It stops when visit returns false. The
// slice is reused between calls. It is an oracle: NextSwissRound does not go this way.
//
// Source: FIDE Handbook C.04.1, "Swiss system based on rating", D.1 (1990s edition).
func transpositions(bottom []int, visit func([]int) bool) {
	order := slices.Sorted(slices.Values(bottom))
	for visit(order) {
		// The next permutation in lexicographic order.
		i := len(order) - 2
		for i >= 0 && order[i] >= order[i+1] {
			i--
		}
		if i < 0 {
			return
		}
		j := len(order) - 1
		for order[j] <= order[i] {
			j--
		}
		order[i], order[j] = order[j], order[i]
		slices.Reverse(order[i+1:])
	}
}

// FIDE Handbook C.04.1 (1990s edition), D.1: the first transpositions of 5 6 7 8.
func TestTranspositions(t *testing.T) {
	var file struct {
		Transpositions struct {
			S2       []int
			Expected [][]int `json:"expected_first"`
		}
	}
	readJSON(t, "swiss_dutch.json", &file)
	var got [][]int
	transpositions(file.Transpositions.S2, func(order []int) bool {
		got = append(got, slices.Clone(order))
		return len(got) < len(file.Transpositions.Expected)
	})
	if diff := cmp.Diff(file.Transpositions.Expected, got); diff != "" {
		t.Errorf("transpositions (-want +got):\n%s", diff)
	}
	all := 0
	transpositions([]int{3, 1, 2}, func([]int) bool { all++; return true })
	if all != 6 {
		t.Errorf("%d orders of three", all)
	}
}
