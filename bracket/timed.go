package bracket

import "slices"

// DealOrder says how entries are dealt to the heats of a timed round.
type DealOrder string

// The ways to deal.
const (
	// DealByLot deals in an order drawn by lot.
	DealByLot DealOrder = "by-lot"
	// DealBySeed deals in the order given, there and back across the heats, so that the heats are alike.
	DealBySeed DealOrder = "by-seed"
)

// MaxLanes is the largest number of lanes of one heat.
const MaxLanes = 64

// TimedOptions are the choices of one timed round.
type TimedOptions struct {
	// Round is the number of the round in its stage, from 1; it stands in the ids of the heats.
	Round int
	// Lanes is the largest number of entries in a heat, from 1 to MaxLanes.
	Lanes int
	// Heats is the number of heats; 0 takes as few as the lanes and the shared cars allow.
	Heats int
	// Order is DealByLot when empty.
	Order DealOrder
	// Cars, when not nil, holds the car of entries[i] at i, with a negative number for a car of its own.
	// Entries of one car are never in one heat.
	Cars []int
	// Earlier are the heats of the earlier rounds of the stage, each with its entries in lane order, and a
	// negative number for an empty lane. They serve to rotate who meets whom and who stands in which lane.
	Earlier [][]int
	// LotSeed is the seed of the lot; the round number is mixed in, so one seed serves a stage.
	LotSeed uint64
}

// TimedRound deals the entries (any distinct numbers that are not negative, in seed order) to heats of at most
// Lanes entries whose sizes differ by at most one. Entries that met in earlier rounds are kept apart where
// exchanges between heats can do it, and lanes are shared out so that an entry comes to lanes that it has had
// least. It refuses lists with an entry twice, lanes and heats that do not hold the field, and heats too few to
// keep the entries of one car apart. No entry at all gives a round without heats.
//
// The search makes passes over all pairs of entries until none helps: repeatable, good, not proved best. It
// costs about entries^2 x lanes for each pass, of which a few are made.
func TimedRound(entries []int, o TimedOptions) (Round, error) {
	heats, err := checkTimed(entries, &o)
	if err != nil {
		return Round{}, err
	}
	deal := newDeal(entries, heats, o)
	deal.spread()
	round := Round{Number: o.Round}
	had := lanesHad(o.Earlier)
	for i, members := range deal.members {
		ids := make([]int, len(members))
		for k, m := range members {
			ids[k] = entries[m]
		}
		h := Heat{ID: HeatID(o.Round, i+1)}
		for _, e := range shareLanes(ids, had) {
			h.Lanes = append(h.Lanes, EntryAt(e))
		}
		round.Heats = append(round.Heats, h)
	}
	return round, nil
}

// TimedRounds draws all rounds of a stage of timed rounds for the entries 0..n-1, each round knowing the
// earlier ones. Lanes are then shared out over all of them: in full heats nobody has a lane more than once oftener than
// another, so in as many rounds as there are lanes everybody has each lane once, and in fewer nobody one twice; where
// heats are not all full, the lanes of everybody are as level as they can be.
func TimedRounds(n, rounds int, o TimedOptions) (*Draw, error) {
	entries := upTo(max(n, 0))
	d := &Draw{Kind: TimedRoundsKind}
	for r := 1; r <= rounds; r++ {
		o.Round = r
		round, err := TimedRound(entries, o)
		if err != nil {
			return nil, err
		}
		d.Rounds = append(d.Rounds, round)
		for _, h := range round.Heats {
			o.Earlier = append(o.Earlier, entriesOf(h))
		}
	}
	heats := d.entryHeats()
	levelLanes(heats)
	at := 0
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			for lane, e := range heats[at] {
				h.Lanes[lane] = EntryAt(e)
			}
			at++
		}
	}
	return d, nil
}

// entriesOf lists the entries of a heat whose lanes hold entries only.
func entriesOf(h Heat) []int {
	lanes := make([]int, len(h.Lanes))
	for i, s := range h.Lanes {
		lanes[i] = s.Entry
	}
	return lanes
}

func checkTimed(entries []int, o *TimedOptions) (heats int, err error) {
	if o.Order == "" {
		o.Order = DealByLot
	}
	n := len(entries)
	// Sorted, an entry that is listed twice stands beside itself.
	sorted := slices.Sorted(slices.Values(entries))
	for i, e := range sorted {
		if e < 0 {
			return 0, refuse("entries", nil, "an entry has the number %d; numbers start at 0", e)
		}
		if i > 0 && e == sorted[i-1] {
			return 0, refuse("entries", []int{e}, "an entry is listed twice")
		}
	}
	switch {
	case n > MaxEntries:
		return 0, refuse("entries", nil, "a timed round takes at most %d entries, this one has %d", MaxEntries, n)
	case o.Round < 1:
		return 0, refuse("round", nil, "rounds are numbered from 1, not %d", o.Round)
	case o.Lanes < 1 || o.Lanes > MaxLanes:
		return 0, refuse("lanes", nil, "a heat has from 1 to %d lanes, not %d", MaxLanes, o.Lanes)
	case o.Heats < 0:
		return 0, refuse("heats", nil, "the number of heats cannot be %d", o.Heats)
	case o.Order != DealByLot && o.Order != DealBySeed:
		return 0, refuse("order", nil, "the order must be %q or %q, not %q", DealByLot, DealBySeed, o.Order)
	case o.Cars != nil && len(o.Cars) != n:
		return 0, refuse("cars", nil, "there are %d cars for %d entries", len(o.Cars), n)
	case o.LotSeed > MaxLotSeed:
		return 0, refuse("lot-seed", nil, "the lot seed must be below 2^53")
	}
	siblings := largestCar(entries, o.Cars)
	heats = o.Heats
	// Entries of one car never meet, so the car with most of them asks for as many heats.
	if heats == 0 {
		heats = max((n+o.Lanes-1)/o.Lanes, len(siblings))
	}
	if n > heats*o.Lanes {
		return 0, refuse("heats", nil, "%d heats of %d lanes hold %d entries, not %d: add heats or lanes", heats, o.Lanes, heats*o.Lanes, n)
	}
	if len(siblings) > heats {
		return 0, refuse(
			"one-car", siblings, "%d entries share one car and never run in one heat: %d heats are too few, add heats", len(siblings), heats,
		)
	}
	// No heat stays empty.
	return min(heats, n), nil
}

// largestCar lists the entries of the car that has most of them.
func largestCar(entries, cars []int) []int {
	byCar := map[int][]int{}
	var most []int
	for i, car := range cars {
		if car < 0 {
			continue
		}
		byCar[car] = append(byCar[car], entries[i])
		if len(byCar[car]) > len(most) {
			most = byCar[car]
		}
	}
	return most
}
