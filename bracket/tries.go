package bracket

import (
	"cmp"
	"slices"
)

// Transpositions calls visit with the orders of the bottom half in the order in which the rule book tries them against
// the top half: ascending, compared number by number, the identity first. It stops when visit returns false. The
// slice is reused between calls. NextSwissRound does not go this way; it serves to compare a pairing with the rule
// book's.
//
// Source: FIDE Handbook C.04.1, "Swiss system based on rating", D.1 (1990s edition).
func Transpositions(bottom []int, visit func([]int) bool) {
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

// Exchange swaps players of the top half with as many of the bottom half.
type Exchange struct{ Top, Bottom []int }

// Exchanges lists the exchanges of so many players (1 or 2) between the halves in the order in which the rule book
// tries them: the least difference between the sums of the numbers first, then the one that takes lower-ranked
// (higher) numbers from the top half, then the one that takes lower numbers from the bottom half.
//
// Source: FIDE Handbook C.04.1, D.2 (1990s edition), whose table it reproduces; the 2012 edition's table for eleven
// players from memory.
func Exchanges(top, bottom []int, players int) []Exchange {
	var all []Exchange
	for _, t := range choose(top, players) {
		for _, b := range choose(bottom, players) {
			all = append(all, Exchange{t, b})
		}
	}
	slices.SortStableFunc(all, func(x, y Exchange) int {
		return cmp.Or(
			cmp.Compare(sum(x.Bottom)-sum(x.Top), sum(y.Bottom)-sum(y.Top)),
			-slices.Compare(descending(x.Top), descending(y.Top)),
			slices.Compare(x.Bottom, y.Bottom),
		)
	})
	return all
}

// choose lists the ways to take one or two of a list, in its order.
func choose(from []int, players int) [][]int {
	var ways [][]int
	for i, a := range from {
		if players == 1 {
			ways = append(ways, []int{a})
			continue
		}
		for _, b := range from[i+1:] {
			ways = append(ways, []int{a, b})
		}
	}
	return ways
}

func sum(of []int) int {
	total := 0
	for _, n := range of {
		total += n
	}
	return total
}

func descending(of []int) []int {
	d := slices.Sorted(slices.Values(of))
	slices.Reverse(d)
	return d
}
