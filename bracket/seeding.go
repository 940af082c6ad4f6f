package bracket

import "slices"

// SeedByRank returns the entries 0..len(ranks)-1 in seed order: by their rank (from 1, shared ranks allowed), with
// those of one rank in an order drawn by lot, and those without a rank (0 or less) behind, by lot too. Ranks come
// from timed rounds, from ratings or from an official's hand; all 0 is a draw by lot.
func SeedByRank(ranks []int, lotSeed uint64) []int {
	order := NewLot(lotSeed).Perm(len(ranks))
	slices.SortStableFunc(order, func(a, b int) int {
		ranked := func(e int) int {
			if ranks[e] <= 0 {
				return len(ranks) + 1 + slices.Max(ranks)
			}
			return ranks[e]
		}
		return ranked(a) - ranked(b)
	})
	return order
}
