package bracket

// dealing is a timed round being dealt. Entries are known by their index in the caller's list.
type dealing struct {
	members [][]int // the entries of each heat
	seat    []seat  // where each entry stands in members
	tier    []int   // exchanges keep to one tier: the row of the deal by seed, or 0 for everybody
	cars    []int   // a number of its own for everybody who shares no car
	clubs   []int   // likewise; only of groups
	met     [][]uint16
	// fixedTiers is how many tiers stay as they were dealt.
	fixedTiers int
}

type seat struct{ heat, place int }

func newDeal(entries []int, heats int, o TimedOptions) *dealing {
	n := len(entries)
	d := &dealing{cars: ownNumbers(o.Cars, n), met: timesMet(entries, o.Earlier)}
	order := upTo(n)
	if o.Order == DealByLot {
		// Each round takes its own stretch of the stream: as many shuffles as its number.
		lot := NewLot(o.LotSeed)
		for range o.Round {
			lot.Shuffle(n, func(i, j int) { order[i], order[j] = order[j], order[i] })
		}
	}
	d.deal(order, heats, true)
	if o.Order == DealByLot {
		clear(d.tier)
	}
	if !d.partCars() {
		// Siblings dealt one after the other, without turning back, fall in as many heats as they are.
		d.deal(siblingsFirst(order, d.cars), heats, false)
		clear(d.tier)
	}
	return d
}

// timesMet counts how often each two entries stood in one heat.
func timesMet(entries []int, earlier [][]int) [][]uint16 {
	index := make(map[int]int, len(entries))
	for i, e := range entries {
		index[e] = i
	}
	met := make([][]uint16, len(entries))
	for i := range met {
		met[i] = make([]uint16, len(entries))
	}
	for _, heat := range earlier {
		for _, a := range heat {
			i, known := index[a]
			if !known {
				continue
			}
			for _, b := range heat {
				if j, also := index[b]; also && i != j {
					met[i][j]++
				}
			}
		}
	}
	return met
}

// deal puts the entries into the heats one by one, turning back at the last heat if asked to.
func (d *dealing) deal(order []int, heats int, turn bool) {
	d.members = make([][]int, heats)
	d.seat = make([]seat, len(order))
	d.tier = make([]int, len(order))
	for i, e := range order {
		h := i % heats
		d.tier[e] = i / heats
		if turn && d.tier[e]%2 == 1 {
			h = heats - 1 - h
		}
		d.seat[e] = seat{h, len(d.members[h])}
		d.members[h] = append(d.members[h], e)
	}
}

// siblingsFirst returns the order with those who share a car in front, each car's entries in a row.
func siblingsFirst(order, cars []int) []int {
	size := make([]int, len(cars))
	byCar := make([][]int, len(cars))
	for _, e := range order {
		size[cars[e]]++
		byCar[cars[e]] = append(byCar[cars[e]], e)
	}
	var first, rest []int
	for _, e := range order {
		switch {
		case size[cars[e]] == 1:
			rest = append(rest, e)
		case byCar[cars[e]][0] == e:
			first = append(first, byCar[cars[e]]...)
		}
	}
	return append(first, rest...)
}

// partCars exchanges entries of one tier, and where that cannot do it of any tier, until no heat holds two of
// one car. It says whether it got there.
func (d *dealing) partCars() bool {
	for e := range d.seat {
		if d.fits(e, d.seat[e].heat, e) {
			continue
		}
		other := d.partner(e, true)
		if other < 0 {
			other = d.partner(e, false)
		}
		if other < 0 {
			return false
		}
		d.exchange(e, other)
	}
	for e := range d.seat {
		if !d.fits(e, d.seat[e].heat, e) {
			return false
		}
	}
	return true
}

// partner finds somebody to exchange e with such that neither meets a sibling, or -1.
func (d *dealing) partner(e int, sameTier bool) int {
	for x := range d.seat {
		if d.seat[x].heat != d.seat[e].heat && (!sameTier || d.tier[x] == d.tier[e]) && d.mayExchange(e, x) {
			return x
		}
	}
	return -1
}

func (d *dealing) mayExchange(a, b int) bool {
	return d.fits(a, d.seat[b].heat, b) && d.fits(b, d.seat[a].heat, a)
}

// fits says whether the heat has no sibling of e, not counting e itself and the one who leaves.
func (d *dealing) fits(e, heat, leaves int) bool {
	for _, m := range d.members[heat] {
		if m != e && m != leaves && d.cars[m] == d.cars[e] {
			return false
		}
	}
	return true
}

func (d *dealing) exchange(a, b int) {
	sa, sb := d.seat[a], d.seat[b]
	d.members[sa.heat][sa.place], d.members[sb.heat][sb.place] = b, a
	d.seat[a], d.seat[b] = sb, sa
}

// spread exchanges entries between heats while that lessens the sum, over all pairs in one heat, of the square
// of how often the two have met.
func (d *dealing) spread() {
	for improved := true; improved; {
		improved = false
		for a := range d.seat {
			for b := a + 1; b < len(d.seat); b++ {
				if d.seat[a].heat == d.seat[b].heat || d.tier[a] != d.tier[b] || d.tier[a] < d.fixedTiers || !d.mayExchange(a, b) {
					continue
				}
				now := d.crowd(a, d.seat[a].heat, a) + d.crowd(b, d.seat[b].heat, b)
				then := d.crowd(a, d.seat[b].heat, b) + d.crowd(b, d.seat[a].heat, a)
				if then < now {
					d.exchange(a, b)
					improved = true
				}
			}
		}
	}
}

// crowd is what e costs in a heat from which somebody leaves.
func (d *dealing) crowd(e, heat, leaves int) int {
	cost := 0
	for _, m := range d.members[heat] {
		if m != leaves && m != noEntry {
			times := int(d.met[e][m])
			cost += times * times
		}
	}
	return cost
}

// lanesHad counts how often each entry stood in each lane.
func lanesHad(heats [][]int) map[int][]int {
	had := map[int][]int{}
	for _, heat := range heats {
		for lane, e := range heat {
			if e < 0 {
				continue
			}
			for len(had[e]) <= lane {
				had[e] = append(had[e], 0)
			}
			had[e][lane]++
		}
	}
	return had
}

// shareLanes returns the entries of a heat in lane order such that the sum of the squares of how often each has
// had each lane grows least; equal choices keep the order given.
func shareLanes(entries []int, had map[int][]int) []int {
	n := len(entries)
	cost := make([][]int, n)
	for i, e := range entries {
		cost[i] = make([]int, n)
		for lane := range n {
			if h := had[e]; lane < len(h) {
				cost[i][lane] = 2 * h[lane] * (n + 1)
			}
			if lane != i {
				cost[i][lane]++ // Only so that equal choices keep the order given.
			}
		}
	}
	lanes := make([]int, n)
	for i, lane := range assign(cost) {
		lanes[lane] = entries[i]
	}
	return lanes
}
