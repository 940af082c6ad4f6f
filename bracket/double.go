package bracket

import "math/bits"

// The parts of a double elimination.
const (
	WinnersPart = "winners"
	LosersPart  = "losers"
)

// MaxDoubleEntries is the largest field of a double elimination: laying the losers out costs the cube of it.
const MaxDoubleEntries = 1024

// DoubleElimination draws a plan in which only a second defeat puts an entry out, for the entries 0..n-1 in seed
// order. The first part is laid as a knockout with the same options; the losers of its first round meet each
// other, and the losers of every later round meet those who have come through the losers' rounds so far. The
// winners of both parts meet in the final, and a second final is reserved for the case that the one from the
// losers' rounds wins it. So 2n-2 heats run, or 2n-1.
//
// Losers cross over to where those whom they have beaten are least likely to meet them again before the final.
// ThirdPlace is refused, since the loser of the last losers' round is third, and so is Plate.
func DoubleElimination(n int, o KnockoutOptions) (*Draw, error) {
	if o.ThirdPlace {
		return nil, refuse("third-place", nil, "a double elimination has no heat for third place: the loser of the last losers' round is third")
	}
	if o.Plate {
		return nil, refuse("plate", nil, "a double elimination has no plate: everybody runs at least twice without one")
	}
	if n > MaxDoubleEntries {
		return nil, refuse("entries", nil, "a double elimination takes at most %d entries, this one has %d", MaxDoubleEntries, n)
	}
	lines, notes, err := knockoutLines(n, o)
	if err != nil {
		return nil, err
	}
	d := &doubling{draw: &Draw{Kind: DoubleEliminationKind, Legs: o.Legs, Notes: notes}, levels: bits.Len(uint(len(lines))) - 1}
	d.laySlots(n)
	for _, e := range lines {
		d.winners = append(d.winners, EntryAt(e))
	}
	d.draw.Rounds = d.rounds()
	return d.draw, nil
}

// doubling is a double elimination being laid out. Level r (from 1) is the r-th round of the winners' part.
type doubling struct {
	draw    *Draw
	levels  int
	number  int // of the last round made
	winners []Slot
	// slot[r][j] is where the loser of match j of level r drops in. At level 1 the seats pair off among
	// themselves; at level r the seats are the size/2^r survivors of the losers' rounds.
	slot [][]int
}

func (d *doubling) rounds() []Round {
	var rounds []Round
	keep := func(r Round) {
		if len(r.Heats) > 0 { // A losers' round of byes alone is none.
			rounds = append(rounds, r)
			d.number++
		}
	}
	var survivors []Slot
	for level := 1; level <= d.levels; level++ {
		round := Round{Number: d.number + 1, Part: WinnersPart}
		losers := make([]Slot, len(d.winners)/2)
		next := make([]Slot, 0, len(losers))
		for j := range losers {
			a, b := d.winners[2*j], d.winners[2*j+1]
			s := round.meet(a, b)
			next = append(next, s)
			losers[d.slot[level][j]] = EntryAt(noEntry)
			if !isBye(a) && !isBye(b) {
				losers[d.slot[level][j]] = LoserOf(s.Heat)
			}
		}
		d.winners = next
		keep(round)
		if level == 1 {
			survivors = losers
			continue
		}
		// The survivors so far pair off, and then meet those who drop in.
		round = Round{Number: d.number + 1, Part: LosersPart}
		survivors = round.pairOff(survivors)
		keep(round)
		round = Round{Number: d.number + 1, Part: LosersPart}
		for j := range survivors {
			survivors[j] = round.meet(survivors[j], losers[j])
		}
		keep(round)
	}
	final := Round{Number: d.number + 1, Heats: []Heat{{
		ID: HeatID(d.number+1, 1), Purpose: Final, Lanes: []Slot{d.winners[0], survivors[0]},
	}}}
	id := final.Heats[0].ID
	again := Round{Number: d.number + 2, Heats: []Heat{{
		ID: HeatID(d.number+2, 1), Purpose: SecondFinal, IfNeeded: true, Lanes: []Slot{WinnerOf(id), LoserOf(id)},
	}}}
	return append(rounds, final, again)
}

// crossings says how the losers of each level cross over, by the number of bits that a seat of the level has: the
// loser of match j drops in at the seat j XOR the number. All that counts is at which level the seats of two have become
// one, so of every two crossings of this kind the chance of a second meeting before the final can be added up exactly,
// and those here have the least of all, up to 128 places by trying every one, and above that level by level. With
// everybody equally strong 0.75, 0.73, 0.70 and 0.71 second meetings are to be expected for 16, 32, 64 and 128.
var crossings = []int{0, 1, 0b01, 0b110, 0b1000, 0b00100, 0b010000, 0b1010000, 0b00010000}

// smallCrossings are those of few places, by the number of levels. With 17 to 22 entries the first round has so few
// losers that others are better: scarceCrossings.
var (
	smallCrossings  = map[int][]int{3: {0, 1}, 4: {0, 0, 0b10}, 5: {0, 0, 0b10, 0b010}}
	scarceCrossings = []int{0, 1, 0b01, 0b100}
)

// laySlots says where the losers drop in, level by level.
func (d *doubling) laySlots(entries int) {
	by, small := smallCrossings[d.levels]
	switch {
	case !small:
		by = crossings
	case d.levels == 5 && entries <= 22:
		by = scarceCrossings
	}
	d.slot = make([][]int, d.levels+1)
	for r := 1; r <= d.levels; r++ {
		for j := range 1 << (d.levels - r) {
			if r > 1 { // The first losers meet as they stand.
				j ^= by[d.levels-r]
			}
			d.slot[r] = append(d.slot[r], j)
		}
	}
}
