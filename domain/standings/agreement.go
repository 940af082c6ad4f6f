package standings

import (
	"math"
	"math/big"
	"slices"
)

// Agreement says how far two measures of the same entries order them alike.
type Agreement struct {
	// Concordant and Discordant count the pairs that both order alike and otherwise; TiesX and TiesY the
	// pairs that one of them leaves level, those that both leave level included in each.
	Concordant, Discordant, TiesX, TiesY int
	// TauA is Kendall's (C-D) over all pairs; TauB (Kendall 1945) allows for ties. Rho is Spearman's: the
	// correlation of the mid-ranks, not the short formula, which is wrong with ties. All are NaN where they
	// are not defined (fewer than two entries, or for TauB and Rho one side level throughout).
	TauA, TauB, Rho float64
}

// Agree compares two lists of figures of the same entries, which must be of one length. Only their order matters,
// not which end is the good one, as long as it is the same end in both. The cost is quadratic.
//
// Source: Kendall, "A New Measure of Rank Correlation" (1938); Spearman (1904); Hollander and Wolfe (1973).
func Agree(x, y []Fraction) (Agreement, error) {
	if len(x) != len(y) {
		return Agreement{}, refuse("there are %d figures on one side and %d on the other", len(x), len(y))
	}
	var a Agreement
	for i := range x {
		for j := range i {
			switch cx, cy := x[i].Cmp(x[j]), y[i].Cmp(y[j]); {
			case cx == 0 || cy == 0:
				if cx == 0 {
					a.TiesX++
				}
				if cy == 0 {
					a.TiesY++
				}
			case cx == cy:
				a.Concordant++
			default:
				a.Discordant++
			}
		}
	}
	pairs := float64(len(x) * (len(x) - 1) / 2)
	difference := float64(a.Concordant - a.Discordant)
	a.TauA = difference / pairs
	a.TauB = difference / math.Sqrt((pairs-float64(a.TiesX))*(pairs-float64(a.TiesY)))
	a.Rho = rho(midRanks(x), midRanks(y))
	return a, nil
}

// midRanks returns twice the mid-rank of each figure, a whole number.
func midRanks(x []Fraction) []int64 {
	twice := make([]int64, len(x))
	for i := range x {
		twice[i] = 1
		for j := range x {
			switch x[j].Cmp(x[i]) {
			case -1:
				twice[i] += 2
			case 0:
				twice[i]++
			}
		}
	}
	return twice
}

func rho(x, y []int64) float64 {
	n := int64(len(x))
	var sx, sy, sxx, syy, sxy int64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, syy, sxy = sxx+x[i]*x[i], syy+y[i]*y[i], sxy+x[i]*y[i]
	}
	return float64(n*sxy-sx*sy) / math.Sqrt(float64(n*sxx-sx*sx)*float64(n*syy-sy*sy))
}

// ExactTail returns the exact probability that two unrelated orders of n entries without ties have at least so many
// concordant pairs. It counts the orders by their inversions (Kendall 1938); the cost grows as n to the third.
func ExactTail(n, concordant int) Fraction {
	counts := []*big.Int{big.NewInt(1)} // orders of m entries by concordant pairs
	for m := 2; m <= n; m++ {
		next := make([]*big.Int, len(counts)+m-1)
		for i := range next {
			next[i] = new(big.Int)
			for k := max(0, i-m+1); k <= min(i, len(counts)-1); k++ {
				next[i].Add(next[i], counts[k])
			}
		}
		counts = next
	}
	tail, all := new(big.Int), new(big.Int)
	for c, orders := range counts {
		all.Add(all, orders)
		if c >= concordant {
			tail.Add(tail, orders)
		}
	}
	return Fraction{new(big.Rat).SetFrac(tail, all)}
}

// MaxKemeny is the largest number of entries of [Kemeny]: the search doubles with each.
const MaxKemeny = 16

// Ballot is an order of entries, the best first, held by so many.
type Ballot struct {
	Weight int64
	Order  []string
}

// Kemeny returns the order that agrees with the ballots in most pairs, and that number (Kemeny 1959; Young 1988).
// Entries that a ballot leaves out are not compared by it. Of several best orders it returns the first by id. The
// search is exact, over subsets (Held and Karp 1962), and takes n^2 2^n steps. It refuses more than MaxKemeny
// entries, and an entry twice in a ballot.
func Kemeny(ballots []Ballot) (order []string, score int64, err error) {
	ids, prefer, err := preferences(ballots)
	if err != nil {
		return nil, 0, err
	}
	n := len(ids)
	// best[s] is the most that the entries of s can get when they stand last, among themselves.
	best := make([]int64, 1<<n)
	first := make([]int, 1<<n)
	for s := 1; s < 1<<n; s++ {
		best[s] = -1
		for e := range n {
			if s&(1<<e) == 0 {
				continue
			}
			rest := s &^ (1 << e)
			total := best[rest]
			for other := range n {
				if rest&(1<<other) != 0 {
					total += prefer[e][other]
				}
			}
			if total > best[s] {
				best[s], first[s] = total, e
			}
		}
	}
	for s := 1<<n - 1; s != 0; s &^= 1 << first[s] {
		order = append(order, ids[first[s]])
	}
	return order, best[1<<n-1], nil
}

// preferences counts how many prefer one entry to another.
func preferences(ballots []Ballot) (ids []string, prefer [][]int64, err error) {
	for i, b := range ballots {
		seen := map[string]bool{}
		if b.Weight < 0 || b.Weight > MaxValue {
			return nil, nil, refuse("ballot %d has a weight of %d", i+1, b.Weight)
		}
		for _, id := range b.Order {
			if err := checkID(id, seen); err != nil {
				return nil, nil, err
			}
		}
		ids = append(ids, b.Order...)
	}
	// In the order of ids, so that of several best orders always the same is found.
	slices.Sort(ids)
	ids = slices.Compact(ids)
	if len(ids) > MaxKemeny {
		return nil, nil, refuse("the best common order is searched for at most %d entries, not %d", MaxKemeny, len(ids))
	}
	prefer = make([][]int64, len(ids))
	for i := range prefer {
		prefer[i] = make([]int64, len(ids))
	}
	for _, b := range ballots {
		for i, better := range b.Order {
			// Whoever a ballot leaves out is compared with nobody by it.
			for _, worse := range b.Order[i+1:] {
				x, _ := slices.BinarySearch(ids, better)
				y, _ := slices.BinarySearch(ids, worse)
				prefer[x][y] += b.Weight
			}
		}
	}
	return ids, prefer, nil
}
