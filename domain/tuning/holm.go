package tuning

import (
	"cmp"
	"slices"
)

// Holm returns for several answers of one session how often chance alone shows as much in
// any of them, where nothing changed in any: the smallest P times their number, the next
// times one fewer, and none below the one before it (S. Holm, "A simple sequentially
// rejective multiple test procedure", Scand. J. Statist. 6, 1979, 65-70). Each comes back
// at its place, at most 1.
func Holm(p []float64) []float64 {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a], p[b]) })
	out, before := make([]float64, len(p)), 0.0
	for rank, i := range order {
		before = max(before, min(1, p[i]*float64(len(p)-rank)))
		out[i] = before
	}
	return out
}
