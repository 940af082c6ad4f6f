package bracket

import (
	"cmp"
	"slices"
)

// carCost is how much dearer two of one car in one group are than two of one club.
const carCost = 16

// partTries bounds how often part starts anew.
const partTries = 60

// part moves entries within their rows (tiers) until as few as possible of those to be kept apart share a group.
// Row by row it finds the best places given the other rows, a least assignment, until no row improves. If that ends
// above the bound, which no filling can go below, it starts anew from rows shuffled by lot, a number of times, and
// keeps the best. The result is repeatable, and best where it meets the bound.
//
// The rows of those who were drawn by lot mean nothing. So where rows leave more together than the bound, the entries
// from the first unseeded one on are also dealt by club in turn, over all rows, which spreads every club evenly
// where there are no seeds; the better of both is kept.
func (d *dealing) part(bound, unseeded int, lot *Lot) {
	d.settleRows()
	best, members := d.together(), d.copyMembers()
	for try := 0; try < partTries && best > bound; try++ {
		for t := d.fixedTiers; ; t++ {
			row := d.row(t)
			if len(row) == 0 {
				break
			}
			lot.Shuffle(len(row), func(i, j int) { d.exchange(row[i], row[j]) })
		}
		d.settleRows()
		if cost := d.together(); cost < best {
			best, members = cost, d.copyMembers()
		}
	}
	d.take(members)
	if best > bound {
		d.dealClubs(unseeded)
		if d.together() >= best {
			d.take(members)
		}
	}
}

// take seats everybody as listed.
func (d *dealing) take(members [][]int) {
	d.members = members
	for h, group := range members {
		for place, e := range group {
			d.seat[e] = seat{h, place}
		}
	}
}

// dealClubs deals the entries from the first unseeded one on anew over the seats that they have, those of one club and
// car one after the other, each to the group where it meets fewest, the one with most seats left first, and in turn. Then
// it exchanges any two of them while that helps.
func (d *dealing) dealClubs(unseeded int) {
	var who []int
	members, open := d.copyMembers(), make([]int, len(d.members))
	for e := unseeded; e < len(d.seat); e++ {
		who = append(who, e)
		members[d.seat[e].heat][d.seat[e].place] = noEntry
		open[d.seat[e].heat]++
	}
	d.members = members
	slices.SortStableFunc(who, func(a, b int) int { return cmp.Or(d.clubs[a]-d.clubs[b], d.cars[a]-d.cars[b]) })
	// From the group behind the last one on, so that groups that are equally good take turns.
	last := -1
	for _, e := range who {
		best := -1
		for step := 1; step <= len(open); step++ {
			h := (last + step) % len(open)
			if open[h] > 0 && (best < 0 || cmp.Or(d.crowd(e, h, e)-d.crowd(e, best, e), open[best]-open[h]) < 0) {
				best = h
			}
		}
		place := slices.Index(members[best], noEntry)
		members[best][place], d.seat[e] = e, seat{best, place}
		open[best]--
		last = best
	}
	// Each exchange makes the meetings fewer, so this ends.
	for improved := true; improved; {
		improved = false
		for i, a := range who {
			for _, b := range who[:i] {
				ha, hb := d.seat[a].heat, d.seat[b].heat
				if ha != hb && d.crowd(a, hb, b)+d.crowd(b, ha, a) < d.crowd(a, ha, a)+d.crowd(b, hb, b) {
					d.exchange(a, b)
					improved = true
				}
			}
		}
	}
}

// leastTogether is the fewest pairs of one number that groups must put together: those of members spread evenly.
func leastTogether(numbers []int, groups int) int {
	size := make([]int, len(numbers))
	for _, number := range numbers {
		size[number]++
	}
	pairs := 0
	for _, k := range size {
		each, more := k/groups, k%groups
		pairs += more*(each+1)*each/2 + (groups-more)*each*(each-1)/2
	}
	return pairs
}

// settleRows improves row after row until none improves.
func (d *dealing) settleRows() {
	for cost := d.together(); ; {
		for t := d.fixedTiers; ; t++ {
			row := d.row(t)
			if len(row) == 0 {
				break
			}
			d.settleRow(row)
		}
		now := d.together()
		if now == cost {
			return
		}
		cost = now
	}
}

// settleRow gives the entries of a row the best of the row's seats.
func (d *dealing) settleRow(row []int) {
	seats := make([]seat, len(row))
	for i, e := range row {
		seats[i] = d.seat[e]
	}
	cost := make([][]int, len(row))
	for i, e := range row {
		cost[i] = make([]int, len(row))
		for k, s := range seats {
			cost[i][k] = d.crowd(e, s.heat, d.members[s.heat][s.place]) * (len(row) + 1)
			if k != i {
				cost[i][k]++ // Only so that nobody moves without need.
			}
		}
	}
	for i, k := range assign(cost) {
		d.seat[row[i]] = seats[k]
		d.members[seats[k].heat][seats[k].place] = row[i]
	}
}

// row lists the entries of a tier.
func (d *dealing) row(tier int) []int {
	var row []int
	for e, t := range d.tier {
		if t == tier {
			row = append(row, e)
		}
	}
	return row
}

// together is what all pairs cost that share a group.
func (d *dealing) together() int {
	twice := 0
	for h, group := range d.members {
		for _, e := range group {
			twice += d.crowd(e, h, e)
		}
	}
	return twice / 2
}

func (d *dealing) copyMembers() [][]int {
	members := make([][]int, len(d.members))
	for i, group := range d.members {
		members[i] = slices.Clone(group)
	}
	return members
}
