package bracket

import (
	"math/bits"
	"slices"
)

// MaxSwiss is the largest field that solve pairs: its search remembers the best pairing of every subset.
const MaxSwiss = 16

// solve returns the pairing of the field that costs least, rule by rule: the index of each one's partner, or the
// length of the field for the bye. It tries the partners of the first one left with the best pairing of every rest
// remembered, which takes n 2^n steps.
func (s *swiss) solve() []int {
	_, mate := s.everyPairing()
	return mate
}

func (s *swiss) everyPairing() (total []int64, mate []int) {
	n := len(s.field)
	p := s.pack()
	even := n + n%2
	cost := func(v, w int) []int64 {
		if w == n {
			return p.byeOf(v)
		}
		return p.pair(v, w)
	}
	best := make([][]int64, 1<<even)
	with := make([]int, 1<<even)
	best[0] = make([]int64, p.words)
	for left := 1; left < 1<<even; left++ {
		if bits.OnesCount(uint(left))%2 == 1 {
			continue
		}
		v := bits.TrailingZeros(uint(left))
		for w := v + 1; w < even; w++ {
			if left&(1<<w) == 0 {
				continue
			}
			sum := slices.Clone(best[left&^(1<<v)&^(1<<w)])
			for i, c := range cost(v, w) {
				sum[i] += c
			}
			if best[left] == nil || slices.Compare(sum, best[left]) < 0 {
				best[left], with[left] = sum, w
			}
		}
	}
	mate = make([]int, n)
	for left := 1<<even - 1; left != 0; {
		v := bits.TrailingZeros(uint(left))
		w := with[left]
		mate[v] = w
		if w < n {
			mate[w] = v
		}
		left = left &^ (1 << v) &^ (1 << w)
	}
	return best[1<<even-1], mate
}
