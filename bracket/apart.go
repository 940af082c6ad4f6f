package bracket

import (
	"math/bits"
	"slices"
)

// separate moves entries within their classes until clubmates, and before them entries of one car, stand in
// different sections as far as possible, and notes where that failed.
//
// From the whole bracket down, each section's members of a club are split between its halves as evenly as the
// classes allow; the split is best possible for that section, since it is improved along chains of exchanges
// until none helps (a convex cost flow without a negative cycle). Then, from round 1 up, single exchanges that
// make earlier meetings fewer are made until there is none. The second step mends what seeds that may not move
// made the first one miss; the result is repeatable but not proved best.
func (l *layout) separate(o KnockoutOptions) []Note {
	for e, class := range l.classOf {
		// A bye belongs to its seed: only seeds that both have one, or both have none, change places.
		if class != unseeded && l.entryAt[l.nominal[e]^1] == noEntry {
			l.classOf[e] = class + 1000
		}
	}
	n := len(l.classOf)
	clubs, cars := ownNumbers(o.Clubs, n), ownNumbers(o.Cars, n)
	if o.Clubs != nil {
		l.split(0, len(l.entryAt), clubs)
	} else {
		l.split(0, len(l.entryAt), cars)
	}
	l.mend(clubs, cars)
	return l.separationNotes(o, clubs, cars)
}

// ownNumbers returns the numbers of clubs or cars as 0, 1, ..., with a number of its own for everybody who has
// none.
func ownNumbers(of []int, n int) []int {
	own := make([]int, n)
	known := map[int]int{}
	next := 0
	for e := range own {
		if of != nil && of[e] >= 0 {
			number, seen := known[of[e]]
			if !seen {
				number, next = next, next+1
				known[of[e]] = number
			}
			own[e] = number
			continue
		}
		own[e], next = next, next+1
	}
	return own
}

// split shares the members of each club out between the halves of the lines lo..hi-1, then does the same in
// each half. The cost is the sum of the squares of each club's difference between the halves.
func (l *layout) split(lo, hi int, clubs []int) {
	if hi-lo < 2 {
		return
	}
	mid := (lo + hi) / 2
	excess := make([]int, len(clubs))
	for line := lo; line < hi; line++ {
		if e := l.entryAt[line]; e >= 0 {
			if line < mid {
				excess[clubs[e]]++
			} else {
				excess[clubs[e]]--
			}
		}
	}
	for l.improve(lo, mid, hi, clubs, excess) {
	}
	l.split(lo, mid, clubs)
	l.split(mid, hi, clubs)
}

// improve looks for a chain of exchanges between the halves that makes the clubs' differences smaller, makes
// it, and says whether there was one. Each exchange keeps to one class; along a chain only the first club
// loses a member in the left half and only the last one gains it.
func (l *layout) improve(lo, mid, hi int, clubs, excess []int) bool {
	for start := range excess {
		for _, sign := range []int{1, -1} {
			if excess[start]*sign < 2 {
				continue
			}
			// With sign -1 the halves change roles.
			from, to := [2]int{lo, mid}, [2]int{mid, hi}
			if sign < 0 {
				from, to = to, from
			}
			if l.chain(start, sign, from, to, clubs, excess) {
				return true
			}
		}
	}
	return false
}

func (l *layout) chain(start, sign int, from, to [2]int, clubs, excess []int) bool {
	// A search in breadth from club to club: give is the line that a member of one leaves, take
	// that of the member of the other it changes places with.
	type hop struct{ club, give, take int }
	cameBy := make([]hop, len(excess))
	seen := make([]bool, len(excess))
	seen[start] = true
	queue := []int{start}
	for len(queue) > 0 {
		club := queue[0]
		queue = queue[1:]
		for give := from[0]; give < from[1]; give++ {
			g := l.entryAt[give]
			if g < 0 || clubs[g] != club {
				continue
			}
			for take := to[0]; take < to[1]; take++ {
				t := l.entryAt[take]
				if t < 0 || l.classOf[t] != l.classOf[g] || seen[clubs[t]] {
					continue
				}
				seen[clubs[t]] = true
				cameBy[clubs[t]] = hop{club, give, take}
				// Two of the difference go from start to here. With differences a and b the squares fall,
				// (a-2)^2 + (b+2)^2 < a^2 + b^2, only where a - b is above 2; otherwise the chain goes on.
				if (excess[start]-excess[clubs[t]])*sign <= 2 {
					queue = append(queue, clubs[t])
					continue
				}
				end := clubs[t]
				// The way is known from its end back; the order does not matter, as no two hops share a line.
				for c := end; c != start; c = cameBy[c].club {
					h := cameBy[c]
					l.entryAt[h.give], l.entryAt[h.take] = l.entryAt[h.take], l.entryAt[h.give]
				}
				excess[start] -= 2 * sign
				excess[end] += 2 * sign
				return true
			}
		}
	}
	return false
}

// meetingRound returns the round in which two different lines meet if both keep winning.
func meetingRound(a, b int) int { return bits.Len(uint(a ^ b)) }

// mend exchanges two entries of one class whenever that makes meetings of one car, then of one club, fewer in
// an earlier round without making any still earlier.
func (l *layout) mend(clubs, cars []int) {
	line := l.byLine()
	rounds := meetingRound(0, len(l.entryAt)-1)
	sameClub, sameCar := mates(clubs), mates(cars)
	// change adds to delta the meetings of entry e when it stands at the line at, not counting the entry skip.
	change := func(delta []int, e, at, skip, by int) {
		for _, m := range sameCar[e] {
			if m != skip {
				delta[2*meetingRound(at, line[m])] += by
			}
		}
		for _, m := range sameClub[e] {
			if m != skip {
				delta[2*meetingRound(at, line[m])+1] += by
			}
		}
	}
	delta := make([]int, 2*(rounds+1))
	for improved := true; improved; {
		improved = false
		for a := range line {
			if len(sameClub[a]) == 0 && len(sameCar[a]) == 0 {
				continue
			}
			for b := range line {
				if a == b || l.classOf[a] != l.classOf[b] {
					continue
				}
				clear(delta)
				change(delta, a, line[a], b, -1)
				change(delta, b, line[b], a, -1)
				change(delta, a, line[b], b, 1)
				change(delta, b, line[a], a, 1)
				if firstNonZero(delta) >= 0 {
					continue
				}
				line[a], line[b] = line[b], line[a]
				l.entryAt[line[a]], l.entryAt[line[b]] = a, b
				improved = true
			}
		}
	}
}

func firstNonZero(v []int) int {
	for _, x := range v {
		if x != 0 {
			return x
		}
	}
	return 0
}

// mates lists for each entry the others with the same number.
func mates(of []int) [][]int {
	members := make([][]int, len(of))
	for e, number := range of {
		members[number] = append(members[number], e)
	}
	lists := make([][]int, len(of))
	for e, number := range of {
		for _, m := range members[number] {
			if m != e {
				lists[e] = append(lists[e], m)
			}
		}
	}
	return lists
}

// separationNotes says which seeds moved, and which clubmates and cars meet earlier than k members in k
// different sections would: a club of k gets sections numbering the smallest power of two that holds k, but at
// most one for each first-round pair.
func (l *layout) separationNotes(o KnockoutOptions, clubs, cars []int) []Note {
	var notes []Note
	if o.Order == NestedOrder {
		if moved := l.movedSeeds(); len(moved) > 0 {
			notes = append(notes, Note{Code: SeedsMoved, Entries: moved})
		}
	}
	line := l.byLine()
	rounds := meetingRound(0, len(l.entryAt)-1)
	sameClub, sameCar := mates(clubs), mates(cars)
	for a := range line {
		for _, b := range sameCar[a] {
			if a < b && meetingRound(line[a], line[b]) == 1 {
				notes = append(notes, Note{Code: RunInTurn, Entries: []int{a, b}, Round: 1})
			}
		}
		for _, b := range sameClub[a] {
			if a > b {
				continue
			}
			sections := bits.Len(uint(len(sameClub[a]))) // log2 of the smallest power of two that holds k.
			due := max(rounds-sections+1, 2)
			if round := meetingRound(line[a], line[b]); round < due {
				notes = append(notes, Note{Code: ClubmatesMeet, Entries: []int{a, b}, Round: round})
			}
		}
	}
	slices.SortStableFunc(notes, func(x, y Note) int { return x.Round - y.Round })
	return notes
}
