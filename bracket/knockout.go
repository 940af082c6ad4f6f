package bracket

import "slices"

// SeedOrder says how seeds come to their lines.
type SeedOrder string

// The ways to lay seeds.
const (
	// NestedOrder lays every seed on its own line, as [SlotOrder] lists them.
	NestedOrder SeedOrder = "nested"
	// ByLotOrder lays seeds 1 and 2 on their lines and draws 3-4, 5-8, 9-16 and so on by lot among the
	// lines of their group.
	ByLotOrder SeedOrder = "by-lot"
)

// MaxEntries is the largest field that this package draws; it only guards against a slip in a file.
const MaxEntries = 4096

// KnockoutOptions are the choices of a knockout. The zero value draws everybody by lot.
type KnockoutOptions struct {
	// Seeds is how many entries, counted from entry 0, are seeded; the others are drawn by lot on the
	// lines that are left. A field seeded from a ranking has as many seeds as entries.
	Seeds int
	// Order is NestedOrder when empty.
	Order SeedOrder
	// Lines is SectionLines when empty; it matters for ByLotOrder only.
	Lines Lines
	// Clubs, when not nil, holds the club of each entry, with a negative number for none; clubmates are
	// then kept apart. Seeds 1 and 2 never move; other seeds only change places within their group.
	Clubs []int
	// Cars, when not nil, holds the car of each entry, with a negative number for a car of its own.
	// Entries of one car are kept apart before anybody else.
	Cars []int
	// ThirdPlace adds a heat of the two who lost in the round before the final. A field below four has
	// no such heat: there the third place is clear without it.
	ThirdPlace bool
	// Plate adds a knockout of their own for those beaten at once: the losers of the first round, and of
	// heats of the second round in which somebody stands who had a bye. Nobody then goes home after one
	// race, except where only one is beaten so (in a field below six). The final has no losers for it, nor have the
	// semi-finals with ThirdPlace.
	Plate bool
	// Legs is 1, or 2 for heats of two legs with the lanes turned round and a decider when level; see
	// LegLanes and DecideLegs. 0 means 1.
	Legs int
	// LotSeed is the seed of the lot; the same seed draws the same again.
	LotSeed uint64
}

// Knockout draws a single elimination for the entries 0..n-1, which stand in seed order. Byes go to the top
// seeds, the best first; byes left over when the seeds run out are drawn and spread evenly, so two byes never
// meet. It refuses fields below two and options that do not fit the field.
//
// Source for the byes: ITF Women's Circuit 2015 regulations, placement of seeds and byes.
func Knockout(n int, o KnockoutOptions) (*Draw, error) {
	lines, notes, err := knockoutLines(n, o)
	if err != nil {
		return nil, err
	}
	seats := make([]Slot, len(lines))
	for i, e := range lines {
		seats[i] = EntryAt(e)
	}
	d := &Draw{Kind: KnockoutKind, Legs: o.Legs, Notes: notes}
	d.Rounds = knockoutRounds(seats, 1, o.ThirdPlace && n >= 4)
	if o.ThirdPlace && n < 4 {
		d.Notes = append(d.Notes, Note{Code: NoThirdPlace})
	}
	if o.Plate {
		d.addPlate(o.ThirdPlace)
	}
	return d, nil
}

// knockoutRounds plays the seats, a power of two of them, down to a final; the first round has the number given.
// Seats without an entry are byes.
func knockoutRounds(seats []Slot, number int, thirdPlace bool) []Round {
	var rounds []Round
	for ; len(seats) > 1; number++ {
		round := Round{Number: number}
		if len(seats) == 2 && thirdPlace {
			round.Heats = append(round.Heats, Heat{
				ID: HeatID(number, 1), Purpose: ThirdPlace, Lanes: []Slot{LoserOf(seats[0].Heat), LoserOf(seats[1].Heat)},
			})
		}
		seats = round.pairOff(seats)
		if len(seats) == 1 {
			round.Heats[len(round.Heats)-1].Purpose = Final
		}
		rounds = append(rounds, round)
	}
	return rounds
}

// pairOff adds a heat for each two seats side by side and returns the seats of the next round. A seat beside a
// bye goes on, and two byes make a bye.
func (r *Round) pairOff(seats []Slot) []Slot {
	var next []Slot
	for i := 0; i < len(seats); i += 2 {
		next = append(next, r.meet(seats[i], seats[i+1]))
	}
	return next
}

func (r *Round) meet(a, b Slot) Slot {
	switch {
	case isBye(a) && isBye(b):
		return a
	case isBye(b):
		r.Byes = append(r.Byes, a)
		return a
	case isBye(a):
		r.Byes = append(r.Byes, b)
		return b
	}
	h := Heat{ID: HeatID(r.Number, len(r.Heats)+1), Lanes: []Slot{a, b}}
	r.Heats = append(r.Heats, h)
	return WinnerOf(h.ID)
}

// noEntry marks a line without an entry: its opponent has a bye.
const noEntry = -1

func isBye(s Slot) bool { return s.Kind == EntrySlot && s.Entry == noEntry }

// knockoutLines lays the entries on the lines of the first round, noEntry on the lines of byes.
func knockoutLines(n int, o KnockoutOptions) ([]int, []Note, error) {
	if err := checkKnockout(n, &o); err != nil {
		return nil, nil, err
	}
	size := bracketSize(n)
	lot := NewLot(o.LotSeed)
	groups := nestedGroups(size, o.Seeds)
	if o.Order == ByLotOrder {
		groups = SeedLines(size, o.Seeds, o.Lines)
		if groups == nil && o.Seeds > 0 {
			return nil, nil, refuse("seeds", nil,
				"the lines %q are only known for up to 8 seeds in at least 16 lines: ask for fewer seeds, or take the lines %q", o.Lines, SectionLines)
		}
	}

	l := layout{entryAt: make([]int, size), classOf: make([]int, n), nominal: make([]int, n)}
	for i := range l.entryAt {
		l.entryAt[i] = free
	}
	last := size / 2 // Seeds beyond it stand against other seeds, on lines that byes may take first.
	byesDone := false
	for g, group := range groups {
		first := 1
		if g > 0 {
			first = 1<<(g-1) + 1
		}
		if first > last && !byesDone {
			l.layByes(size-n, o.Seeds, lot)
			byesDone = true
		}
		var open []int
		for _, line := range group {
			if l.entryAt[line-1] == free {
				open = append(open, line-1)
			}
		}
		if o.Order == ByLotOrder && len(open) > 1 {
			lot.Shuffle(len(open), func(i, j int) { open[i], open[j] = open[j], open[i] })
		}
		for i := 0; i < len(open) && first-1+i < o.Seeds; i++ {
			l.put(open[i], first-1+i, g)
		}
	}
	if !byesDone {
		l.layByes(size-n, o.Seeds, lot)
	}
	l.layUnseeded(o.Seeds, n, lot)
	if o.Clubs == nil && o.Cars == nil {
		return l.entryAt, nil, nil
	}
	return l.entryAt, l.separate(o), nil
}

func checkKnockout(n int, o *KnockoutOptions) error {
	if o.Order == "" {
		o.Order = NestedOrder
	}
	if o.Lines == "" {
		o.Lines = SectionLines
	}
	switch {
	case n < 2:
		return refuse("entries", nil, "a knockout needs at least 2 entries, this one has %d", n)
	case n > MaxEntries:
		return refuse("entries", nil, "a knockout takes at most %d entries, this one has %d", MaxEntries, n)
	case o.Seeds < 0 || o.Seeds > n:
		return refuse("seeds", nil, "the seeds must be from 0 to the %d entries, not %d", n, o.Seeds)
	case o.Order != NestedOrder && o.Order != ByLotOrder:
		return refuse("order", nil, "the order must be %q or %q, not %q", NestedOrder, ByLotOrder, o.Order)
	case o.Lines != SectionLines && o.Lines != QuarterLines:
		return refuse("lines", nil, "the lines must be %q or %q, not %q", SectionLines, QuarterLines, o.Lines)
	case o.Clubs != nil && len(o.Clubs) != n:
		return refuse("clubs", nil, "there are %d clubs for %d entries", len(o.Clubs), n)
	case o.Cars != nil && len(o.Cars) != n:
		return refuse("cars", nil, "there are %d cars for %d entries", len(o.Cars), n)
	case o.Legs < 0 || o.Legs > 2:
		return refuse("legs", nil, "a heat has 1 or 2 legs, not %d", o.Legs)
	case o.LotSeed > MaxLotSeed:
		return refuse("lot-seed", nil, "the lot seed must be below 2^53")
	}
	return nil
}

// nestedGroups lists the lines of the nested order, seed by seed, in the groups 1, 2, 3-4, 5-8, ...
func nestedGroups(size, seeds int) [][]int {
	lineOf := make([]int, size+1)
	for i, s := range SlotOrder(size) {
		lineOf[s] = i + 1
	}
	var groups [][]int
	for s := 1; s <= size; s++ {
		g := seedGroup(s)
		if g == len(groups) {
			if s > seeds {
				break
			}
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], lineOf[s])
	}
	return groups
}

// free marks a line that is not laid yet.
const free = -2

// unseeded is the class of entries drawn by lot; seeds have the class of their group and bye.
const unseeded = -1

// layout is a knockout being laid: the entry at each line, and for each entry which others it may change
// places with and on which line it was first put.
type layout struct {
	entryAt []int
	classOf []int
	nominal []int
}

func (l *layout) put(line, entry, class int) {
	l.entryAt[line] = entry
	l.classOf[entry] = class
	l.nominal[entry] = line
}

// layByes leaves the line beside each of the first seeds empty. Byes that no seed takes are spread: each goes
// to the half, quarter and so on that has fewest so far, by lot where they are level.
func (l *layout) layByes(byes, seeds int, lot *Lot) {
	lineOf := make([]int, seeds)
	for line, e := range l.entryAt {
		if e >= 0 {
			lineOf[e] = line
		}
	}
	for seed := 0; seed < min(byes, seeds); seed++ {
		l.entryAt[lineOf[seed]^1] = noEntry
	}
	for range byes - min(byes, seeds) {
		lo, hi := 0, len(l.entryAt)
		for hi-lo > 2 {
			mid := (lo + hi) / 2
			left, right := l.byePlaces(lo, mid), l.byePlaces(mid, hi)
			switch {
			case right.open == 0, left.open > 0 && left.byes < right.byes:
				hi = mid
			case left.open == 0, right.byes < left.byes:
				lo = mid
			case lot.Intn(2) == 0:
				hi = mid
			default:
				lo = mid
			}
		}
		// The pair holds a free line, and after all seeds have their bye no seed beside it.
		if l.entryAt[lo+1] == free {
			lo++
		}
		l.entryAt[lo] = noEntry
	}
}

type byeCount struct{ byes, open int }

// byePlaces counts the byes between two lines and the pairs that can still take one: without a bye so far and
// with a line free for it.
func (l *layout) byePlaces(lo, hi int) byeCount {
	var c byeCount
	for i := lo; i < hi; i += 2 {
		a, b := l.entryAt[i], l.entryAt[i+1]
		switch {
		case a == noEntry || b == noEntry:
			c.byes++
		case a == free || b == free:
			c.open++
		}
	}
	return c
}

// layUnseeded draws the entries from..n-1 on the lines that are left.
func (l *layout) layUnseeded(from, n int, lot *Lot) {
	drawn := lot.Perm(n - from)
	for line, e := range l.entryAt {
		if e == free {
			l.put(line, from+drawn[0], unseeded)
			drawn = drawn[1:]
		}
	}
}

// byLine returns the line of each entry.
func (l *layout) byLine() []int {
	lines := make([]int, len(l.classOf))
	for line, e := range l.entryAt {
		if e >= 0 {
			lines[e] = line
		}
	}
	return lines
}

// movedSeeds lists the seeds that do not stand on their first line, in order.
func (l *layout) movedSeeds() []int {
	var moved []int
	for e, line := range l.byLine() {
		if l.classOf[e] != unseeded && l.nominal[e] != line {
			moved = append(moved, e)
		}
	}
	slices.Sort(moved)
	return moved
}
