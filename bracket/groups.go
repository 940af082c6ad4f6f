package bracket

import "slices"

// RoundRobinOptions are the choices of a round robin.
type RoundRobinOptions struct {
	// Cycles is how often each two meet, from 1 to MaxCycles.
	Cycles int
	// Seeds is how many entries keep their number, counted from entry 0; the others draw theirs by lot.
	Seeds int
	// Cars, when not nil, holds the car of each entry, with a negative number for a car of its own: the
	// notes say which heats run in turn.
	Cars []int
	// LotSeed is the seed of the lot.
	LotSeed uint64
}

// MaxCycles bounds how often each two meet.
const MaxCycles = 8

// RoundRobin draws a round robin of the entries 0..n-1 by the Berger tables. In an odd field one entry rests in
// each round.
func RoundRobin(n int, o RoundRobinOptions) (*Draw, error) {
	switch {
	case n < 2:
		return nil, refuse("entries", nil, "a round robin needs at least 2 entries, this one has %d", n)
	case n > 256:
		return nil, refuse("entries", nil, "a round robin takes at most 256 entries, this one has %d: draw groups", n)
	}
	if err := checkRobin(n, o.Cycles, o.Seeds, o.Cars, o.LotSeed); err != nil {
		return nil, err
	}
	d := &Draw{Kind: RoundRobinKind}
	d.meetAll([]Group{{Entries: numbered(n, o.Seeds, o.LotSeed)}}, o.Cycles)
	d.noteCars(o.Cars)
	return d, nil
}

func checkRobin(n, cycles, seeds int, cars []int, lotSeed uint64) error {
	switch {
	case cycles < 1 || cycles > MaxCycles:
		return refuse("cycles", nil, "the cycles must be from 1 to %d, not %d", MaxCycles, cycles)
	case seeds < 0 || seeds > n:
		return refuse("seeds", nil, "the seeds must be from 0 to the %d entries, not %d", n, seeds)
	case cars != nil && len(cars) != n:
		return refuse("cars", nil, "there are %d cars for %d entries", len(cars), n)
	case lotSeed > MaxLotSeed:
		return refuse("lot-seed", nil, "the lot seed must be below 2^53")
	}
	return nil
}

// numbered lists the entries 0..n-1, the seeds first and in order, the others in an order drawn by lot.
func numbered(n, seeds int, lotSeed uint64) []int {
	order := upTo(n)
	rest := order[seeds:]
	NewLot(lotSeed).Shuffle(len(rest), func(i, j int) { rest[i], rest[j] = rest[j], rest[i] })
	return order
}

// upTo returns 0..n-1.
func upTo(n int) []int {
	r := make([]int, n)
	for i := range r {
		r[i] = i
	}
	return r
}

// GroupOptions are the choices of a group stage.
type GroupOptions struct {
	// Groups is their number; every group has at least two entries.
	Groups int
	Cycles int
	// Seeds is how many entries, counted from entry 0, are seeded; the others are drawn by lot behind them.
	Seeds int
	// Clubs and Cars are as in KnockoutOptions.
	Clubs []int
	Cars  []int
	// Advance is how many of each group go on to a knockout; 0 draws the groups alone.
	Advance int
	// NextBest is how many more go on, the best of those on the first place that does not.
	NextBest int
	// ThirdPlace adds a heat for third place to the knockout.
	ThirdPlace bool
	LotSeed    uint64
}

// Groups draws groups for the entries 0..n-1 and, if any advance, the knockout behind them. The groups are filled
// there and back (1 to G, then G to 1, and so on); clubmates are parted by moves within such a row, never in the
// first one, and only where somebody is parted by it, and, where that leaves some together, by dealing those who were
// drawn by lot anew, club by club. In the knockout the winners of groups are the first seeds, then the seconds, and so on, and those
// of one group are kept apart as clubmates are; the places in the groups settle who they are.
func Groups(n int, o GroupOptions) (*Draw, error) {
	if err := checkGroups(n, o); err != nil {
		return nil, err
	}
	deal := &dealing{cars: ownNumbers(o.Cars, n), clubs: ownNumbers(o.Clubs, n), fixedTiers: 1}
	deal.met = together(deal.clubs, deal.cars)
	deal.deal(numbered(n, o.Seeds, o.LotSeed), o.Groups, true)
	deal.part(leastTogether(deal.clubs, o.Groups)+(carCost-1)*leastTogether(deal.cars, o.Groups), o.Seeds, NewLot(o.LotSeed))

	d := &Draw{Kind: GroupsKind}
	for g, members := range deal.members {
		slices.SortStableFunc(members, func(a, b int) int { return deal.tier[a] - deal.tier[b] })
		d.Groups = append(d.Groups, Group{Name: groupName(g), Entries: members})
	}
	d.meetAll(d.Groups, o.Cycles)
	d.noteClubs(o.Clubs)
	d.noteCars(o.Cars)
	if o.Advance > 0 {
		d.advance(o)
	}
	if o.ThirdPlace && o.Groups*o.Advance+o.NextBest < 4 {
		d.Notes = append(d.Notes, Note{Code: NoThirdPlace})
	}
	return d, nil
}

func checkGroups(n int, o GroupOptions) error {
	if err := checkRobin(n, o.Cycles, o.Seeds, o.Cars, o.LotSeed); err != nil {
		return err
	}
	smallest := 0
	if o.Groups > 0 {
		smallest = n / o.Groups
	}
	goOn := o.Groups*o.Advance + o.NextBest
	switch {
	case n > MaxEntries:
		return refuse("entries", nil, "groups take at most %d entries, this draw has %d", MaxEntries, n)
	case o.Groups < 1 || smallest < 2:
		return refuse("groups", nil, "%d groups of %d entries: a group needs at least 2 entries", o.Groups, n)
	case o.Clubs != nil && len(o.Clubs) != n:
		return refuse("clubs", nil, "there are %d clubs for %d entries", len(o.Clubs), n)
	case o.Advance < 0 || o.Advance > smallest:
		return refuse("advance", nil, "%d of each group cannot go on where a group has %d entries", o.Advance, smallest)
	case o.NextBest < 0 || o.NextBest >= o.Groups && o.NextBest > 0:
		return refuse("next-best", nil, "the next best must be from 0 to %d, fewer than the groups", o.Groups-1)
	case o.NextBest > 0 && (o.Advance == 0 || o.Advance == smallest):
		return refuse("next-best", nil, "next best go on only behind those who go on by place, and where every group has a place for one")
	case o.Advance > 0 && goOn < 2:
		return refuse("advance", nil, "a knockout needs at least 2 who go on, here it is %d", goOn)
	}
	return nil
}

// together marks the pairs to be kept apart. The search counts the squares: 1 for clubmates, carCost for a car.
func together(clubs, cars []int) [][]uint16 {
	met := make([][]uint16, len(clubs))
	for a := range met {
		met[a] = make([]uint16, len(clubs))
		for b := range met {
			switch {
			case a == b:
			case cars[a] == cars[b]:
				met[a][b] = 4 // Its square is carCost.
			case clubs[a] == clubs[b]:
				met[a][b] = 1
			}
		}
	}
	return met
}

// groupName returns A, B, ..., Z, AA, AB, ...
func groupName(g int) string {
	name := ""
	for g++; g > 0; g = (g - 1) / 26 {
		name = string(rune('A'+(g-1)%26)) + name
	}
	return name
}

// meetAll adds the rounds in which the members of each group meet; groups that have fewer rounds are done sooner.
func (d *Draw) meetAll(groups []Group, cycles int) {
	tables := make([][][]Pairing, len(groups))
	rounds := 0
	for g, group := range groups {
		tables[g] = BergerCycles(len(group.Entries), cycles)
		rounds = max(rounds, len(tables[g]))
	}
	for r := range rounds {
		round := Round{Number: r + 1}
		for g, group := range groups {
			if r >= len(tables[g]) {
				continue
			}
			for _, p := range tables[g][r] {
				first, second := entryOrRest(group, p.First), entryOrRest(group, p.Second)
				if isBye(first) || isBye(second) {
					round.meet(first, second)
					continue
				}
				round.Heats = append(round.Heats, Heat{
					ID: HeatID(round.Number, len(round.Heats)+1), Group: group.Name, Lanes: []Slot{first, second},
				})
			}
		}
		d.Rounds = append(d.Rounds, round)
	}
}

func entryOrRest(g Group, number int) Slot {
	if number > len(g.Entries) {
		return EntryAt(noEntry)
	}
	return EntryAt(g.Entries[number-1])
}

// advance adds the knockout of those who go on.
func (d *Draw) advance(o GroupOptions) {
	var seats []Slot
	var from []int
	for place := 1; place <= o.Advance; place++ {
		for g, group := range d.Groups {
			seats = append(seats, GroupPlace(group.Name, place))
			from = append(from, g)
		}
	}
	for k := range o.NextBest {
		seats = append(seats, NextBest(0, k+1))
		from = append(from, -1)
	}
	lines, _, err := knockoutLines(len(seats), KnockoutOptions{Seeds: len(seats), Clubs: from})
	if err != nil {
		panic("bracket: the number who go on was checked: " + err.Error())
	}
	laid := make([]Slot, len(lines))
	for i, e := range lines {
		laid[i] = EntryAt(noEntry)
		if e != noEntry {
			laid[i] = seats[e]
		}
	}
	d.Rounds = append(d.Rounds, knockoutRounds(laid, len(d.Rounds)+1, o.ThirdPlace && len(seats) >= 4)...)
}

// noteClubs says which clubmates stand in one group.
func (d *Draw) noteClubs(clubs []int) {
	if clubs == nil {
		return
	}
	for _, g := range d.Groups {
		for i, b := range g.Entries {
			for _, a := range g.Entries[:i] {
				if clubs[a] >= 0 && clubs[a] == clubs[b] {
					d.Notes = append(d.Notes, Note{Code: ClubmatesInGroup, Entries: []int{min(a, b), max(a, b)}, Group: g.Name})
				}
			}
		}
	}
}

// noteCars says which heats are of one car.
func (d *Draw) noteCars(cars []int) {
	if cars == nil {
		return
	}
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			e := entriesOf(h)
			if len(e) == 2 && cars[e[0]] >= 0 && cars[e[0]] == cars[e[1]] {
				d.Notes = append(d.Notes, Note{Code: RunInTurn, Entries: []int{min(e[0], e[1]), max(e[0], e[1])}, Round: r.Number})
			}
		}
	}
}
