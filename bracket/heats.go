package bracket

import "slices"

// HeatOrder says how ranked entries are spread over heats of many lanes.
type HeatOrder string

// The ways to spread them.
const (
	// ZigzagOrder puts rank 1, 2, 3, ... across the heats and back, the best in the first heat.
	ZigzagOrder HeatOrder = "zigzag"
	// CircleOrder puts the best in the last heat, the second in the one before, and so on round; with four
	// heats or more only the last three are filled so, and those before take blocks of the next best.
	CircleOrder HeatOrder = "circle"
)

// Zigzag spreads the ranks 0..n-1 over so many heats, across and back. Heats are in running order, each with its
// ranks from the best on.
//
// Source: World Athletics Technical Rules, TR 20 (earlier IAAF Rule 166), from memory.
func Zigzag(n, heats int) [][]int {
	spread := make([][]int, heats)
	for i := range n {
		h := i % heats
		if i/heats%2 == 1 {
			h = heats - 1 - h
		}
		spread[h] = append(spread[h], i)
	}
	return spread
}

// Circle spreads the ranks 0..n-1 over so many heats of at most so many lanes by circle seeding of the last
// circled heats (3 is usual, 2 for long races). Heats are in running order, each with its ranks from the best on.
// Where heats come before the circled ones, the circled ones are full unless a heat before would be left with
// fewer than three.
//
// Source: FINA Swimming Rules 2009-2013, SW 3.1.1.
func Circle(n, heats, lanes, circled int) [][]int {
	spread := make([][]int, heats)
	circled = min(circled, heats)
	sizes := circleSizes(n, heats, lanes, circled)
	top := sizes[0]
	for i := range top {
		h := heats - 1 - i%circled
		spread[h] = append(spread[h], i)
	}
	next := top
	for k, size := range sizes[1:] {
		for range size {
			spread[heats-circled-1-k] = append(spread[heats-circled-1-k], next)
			next++
		}
	}
	return spread
}

// circleSizes returns how many ranks are circled, then the sizes of the heats before, the fastest first.
func circleSizes(n, heats, lanes, circled int) []int {
	blocks := heats - circled
	sizes := make([]int, 1+blocks)
	left := n
	sizes[0] = min(left, circled*lanes)
	left -= sizes[0]
	for k := range blocks {
		sizes[k+1] = min(left, lanes)
		left -= sizes[k+1]
	}
	// A heat with fewer than three gets some from the faster ones.
	least := min(3, n/heats)
	for k := blocks; k > 0; k-- {
		if lack := least - sizes[k]; lack > 0 {
			sizes[k] += lack
			sizes[k-1] -= lack
		}
	}
	return sizes
}

// LaneOrder returns the lanes (from 1) in the order in which they are given out, the best first: the centre, then
// alternately to its sides, the higher lane first. With an odd number of lanes the middle one is the centre.
//
// Source: FINA Swimming Rules 2009-2013, SW 3.1.2, for 6, 8 and 10 lanes; odd numbers are our extension.
func LaneOrder(lanes int) []int {
	order := make([]int, 0, lanes)
	centre := (lanes + 1) / 2
	for step := 0; len(order) < lanes; step++ {
		if step == 0 {
			order = append(order, centre)
			continue
		}
		order = append(order, centre+step)
		if centre-step >= 1 {
			order = append(order, centre-step)
		}
	}
	return order[:lanes]
}

// HeatsOptions are the choices of a stage of heats of many.
type HeatsOptions struct {
	// Lanes is the largest number of entries in a heat, from 2 to MaxLanes.
	Lanes int
	// Heats is the number of heats of the first round; 0 takes as few as the lanes and the cars allow.
	Heats int
	// Order is ZigzagOrder when empty.
	Order HeatOrder
	// Circled is how many heats are circle seeded; 0 means 3.
	Circled int
	// CentreLanes gives the best of each heat the centre lanes, as LaneOrder lists them; lanes that a small
	// heat does not need stay empty. Otherwise lanes are given out from the first on.
	CentreLanes bool
	// Advance is how many of each heat go on by their place, NextBest how many more by their result. With
	// neither there is one round only.
	Advance, NextBest int
	// BFinal adds a heat for the next best of those who did not reach the final, as many as it has lanes.
	BFinal bool
	// Seeds is how many entries, counted from entry 0, are ranked; the others are drawn by lot behind them.
	Seeds int
	// Cars is as in KnockoutOptions: entries of one car are never in one heat of the first round. Later
	// rounds depend on results, so whoever fills their lanes has to look again.
	Cars    []int
	LotSeed uint64
}

// Heats draws heats of many lanes for the entries 0..n-1 in seed order, and the rounds behind them down to a final
// of one heat: of each heat the first Advance go on, with the NextBest of the round, of whom no
// more than the final has lanes for; a note says where they are fewer. In later rounds those who
// won come first, by heat, then the seconds, and so on, and are spread by zigzag.
func Heats(n int, o HeatsOptions) (*Draw, error) {
	heats, err := checkHeats(n, &o)
	if err != nil {
		return nil, err
	}
	seats := o.firstSeats(n, heats)
	d := &Draw{Kind: HeatsKind}
	for going := n; ; {
		round := o.round(len(d.Rounds)+1, seats)
		if len(seats) == 1 && len(d.Rounds) > 0 {
			round.Heats[0].Purpose = Final
			o.addBFinal(&round, going, d.Rounds[len(d.Rounds)-1])
		}
		d.Rounds = append(d.Rounds, round)
		if len(seats) == 1 || o.Advance == 0 {
			if o.BFinal && !slices.ContainsFunc(round.Heats, func(h Heat) bool { return h.Purpose == BFinal }) {
				d.Notes = append(d.Notes, Note{Code: NoBFinal})
			}
			return d, nil
		}
		next, cut := o.goingOn(round.Number, seats)
		if cut > 0 {
			d.Notes = append(d.Notes, Note{Code: FewerNextBest, Round: round.Number, Left: cut})
		}
		// Every round must send fewer on, or there would never be a final.
		if len(next) >= going {
			return nil, refuse(
				"advance", nil, "with %d of each heat and %d next best, %d of %d go on from round %d: let fewer go on", o.Advance, o.NextBest,
				len(next), going, round.Number,
			)
		}
		going = len(next)
		seats = nil
		for _, ranks := range Zigzag(len(next), (len(next)+o.Lanes-1)/o.Lanes) {
			var heat []Slot
			for _, r := range ranks {
				heat = append(heat, next[r])
			}
			seats = append(seats, heat)
		}
	}
}

// firstSeats spreads the entries over the heats of the first round.
func (o *HeatsOptions) firstSeats(n, heats int) [][]Slot {
	order := numbered(n, o.Seeds, o.LotSeed)
	spread := Zigzag(n, heats)
	if o.Order == CircleOrder {
		spread = Circle(n, heats, o.Lanes, o.Circled)
	}
	deal := dealt(spread, order, o.Cars)
	// Exchanges change the spread as little as they can. Where they do not part the cars, all are
	// dealt anew, those of one car first.
	if !deal.partCars() {
		deal.deal(siblingsFirst(order, deal.cars), heats, false)
	}
	var seats [][]Slot
	for _, members := range deal.members {
		var heat []Slot
		for _, e := range members {
			heat = append(heat, EntryAt(e))
		}
		seats = append(seats, heat)
	}
	return seats
}

// addBFinal puts a heat of the next best behind those who are in the final in front of it.
func (o *HeatsOptions) addBFinal(final *Round, finalists int, before Round) {
	ran, best := 0, 0
	for _, h := range before.Heats {
		for _, s := range h.Lanes {
			ran += int(one(s.Kind != EmptySlot))
		}
	}
	for _, s := range final.Heats[0].Lanes {
		best += int(one(s.Kind == NextBestSlot))
	}
	left := min(ran-finalists, o.Lanes)
	if !o.BFinal || left < 2 {
		return
	}
	var seats []Slot
	for k := range left {
		seats = append(seats, NextBest(before.Number, best+k+1))
	}
	b := o.round(final.Number, [][]Slot{seats}).Heats[0]
	b.Purpose = BFinal
	final.Heats[0].ID = HeatID(final.Number, 2)
	final.Heats = []Heat{b, final.Heats[0]}
}

func checkHeats(n int, o *HeatsOptions) (heats int, err error) {
	if o.Order == "" {
		o.Order = ZigzagOrder
	}
	if o.Circled == 0 {
		o.Circled = 3
	}
	switch {
	case n < 2:
		return 0, refuse("entries", nil, "heats need at least 2 entries, these have %d", n)
	case o.Lanes < 2:
		return 0, refuse("lanes", nil, "a heat of many has from 2 to %d lanes, not %d", MaxLanes, o.Lanes)
	case o.Order != ZigzagOrder && o.Order != CircleOrder:
		return 0, refuse("order", nil, "the order must be %q or %q, not %q", ZigzagOrder, CircleOrder, o.Order)
	case o.Circled < 0:
		return 0, refuse("circled", nil, "the number of circled heats cannot be %d", o.Circled)
	case o.Seeds < 0 || o.Seeds > n:
		return 0, refuse("seeds", nil, "the seeds must be from 0 to the %d entries, not %d", n, o.Seeds)
	case o.Advance < 0 || o.NextBest < 0:
		return 0, refuse("advance", nil, "a negative number cannot go on")
	case o.Advance == 0 && o.NextBest > 0:
		return 0, refuse("next-best", nil, "next best go on only behind those who go on by place")
	}
	// The first round is a timed round as far as its size and its cars go.
	heats, err = checkTimed(upTo(n), &TimedOptions{Round: 1, Lanes: o.Lanes, Heats: o.Heats, Cars: o.Cars, LotSeed: o.LotSeed})
	if err != nil {
		return 0, err
	}
	// Also the smallest heat must have all the places that go on.
	if smallest := n / heats; o.Advance > smallest {
		return 0, refuse("advance", nil, "%d of each heat cannot go on where a heat has %d entries", o.Advance, smallest)
	}
	return heats, nil
}

// dealt takes over a spread of ranks; exchanges for the sake of cars keep to ranks that stand in one row.
func dealt(spread [][]int, order, cars []int) *dealing {
	n := len(order)
	d := &dealing{cars: ownNumbers(cars, n), seat: make([]seat, n), tier: make([]int, n)}
	for h, ranks := range spread {
		var members []int
		for place, r := range ranks {
			members = append(members, order[r])
			d.seat[order[r]] = seat{h, place}
			d.tier[order[r]] = r / len(spread)
		}
		d.members = append(d.members, members)
	}
	return d
}

func (o *HeatsOptions) round(number int, seats [][]Slot) Round {
	round := Round{Number: number}
	for i, heat := range seats {
		h := Heat{ID: HeatID(number, i+1), Lanes: heat}
		if o.CentreLanes {
			h.Lanes = make([]Slot, o.Lanes)
			for lane := range h.Lanes {
				h.Lanes[lane] = Nobody()
			}
			for k, lane := range LaneOrder(o.Lanes)[:len(heat)] {
				h.Lanes[lane-1] = heat[k]
			}
		}
		round.Heats = append(round.Heats, h)
	}
	return round
}

// goingOn lists the seats of the next round: the winners by heat, the seconds by heat, ..., then the next best; and how
// many next best were cut.
func (o *HeatsOptions) goingOn(round int, seats [][]Slot) (next []Slot, cut int) {
	out := 0
	for place := 1; place <= o.Advance; place++ {
		for h, heat := range seats {
			if place <= len(heat) {
				next = append(next, PlaceOf(HeatID(round, h+1), place))
			}
		}
	}
	for _, heat := range seats {
		out += max(0, len(heat)-o.Advance)
	}
	best := min(o.NextBest, out)
	if len(next) <= o.Lanes { // Those who won their places fill one heat at most: so that it is the final.
		best = min(best, o.Lanes-len(next))
	}
	for k := range best {
		next = append(next, NextBest(round, k+1))
	}
	return next, o.NextBest - best
}

// one is 1 for yes, to count with.
func one(yes bool) int64 {
	if yes {
		return 1
	}
	return 0
}
