package bracket

import (
	"cmp"
	"slices"
)

// Side is the bench on which one of two runs; it plays the part that colour plays in the rule book.
type Side int8

// The sides.
const (
	NoSide Side = 0
	Left   Side = 1 // as white
	Right  Side = -1
)

// Float says how an entry was paired outside its score group.
type Float int8

// The floats.
const (
	NoFloat   Float = 0
	FloatDown Float = -1 // against fewer points, or a bye
	FloatUp   Float = 1  // against more points
)

// SwissEntry is an entry before a Swiss round. The slices hold one value for each round before; shorter ones are
// taken as those of a late entry, who was not there in the rounds before its first.
type SwissEntry struct {
	// Points are in a fixed unit of the caller, for example half points.
	Points int64
	// Opponents are numbers of entries, negative for a round that was not played.
	Opponents []int
	Sides     []Side
	Floats    []Float
	// HadBye is true after a bye, and after a win without a race: no (second) bye then.
	HadBye bool
	// Absent entries are not paired.
	Absent bool
	// Car is a number shared by entries that use one car, negative for a car of its own.
	Car int
}

// SwissOptions are what holds for a round.
type SwissOptions struct {
	// Round counts from 1; Rounds is the number of all rounds.
	Round, Rounds int
	// Win is what a win is worth in the unit of the points: who has more than half of what could be had is
	// a top scorer in the last round.
	Win int64
	// LotSeed decides which side the first entry has in the first round, and between pairings that are equal by
	// all rules.
	LotSeed uint64
}

// SwissPair is a pairing; First runs on the left bench.
type SwissPair struct {
	First, Second int
	Reasons       []Reason
}

// SwissRound is a paired round.
type SwissRound struct {
	// Pairs are in the order of the better of the two.
	Pairs []SwissPair
	// Bye is the entry without an opponent, or a negative number.
	Bye        int
	ByeReasons []Reason
}

// MaxSwiss is the most entries that NextSwissRound pairs. So many take a second or two and up to 300 MB; more are a
// slip in a file.
const MaxSwiss = 1024

// NextSwissRound pairs the next round of a Swiss of the entries, which stand in the order of their first ranking
// (entry 0 has the pairing number 1). It refuses a round beyond the last, histories that are longer than the rounds
// before, opponents that are not listed, and histories that contradict each other. It never fails to pair: where
// the absolute rules leave no pairing, the side rules give way first, then the second bye, then the rematch, as
// seldom as can be, and the reasons say so.
//
// It follows the FIDE Dutch system, C.04.3, in the order of criteria of the 2016 edition (from memory), with these
// deviations, each for the sake of finding the best pairing of the whole field at once instead of the first one
// that will do bracket by bracket:
//   - all criteria are weighed over the whole field, a higher criterion always before a lower one: absolute rules,
//     the bye as low as possible, then for every score group from the top down the fewest who leave it downward
//     (C5, C7), the smallest score differences (C6), side preferences (C10), strong ones (C11), floats of the last
//     round and of the one before it (C12 to C15); C16 to C19 are left out;
//   - score differences (C6) are compared for the whole round, not bracket by bracket: those of all pairs, the largest
//     first. How many leave each group is settled by then, and with it the sum of the differences, so this shares
//     the sum out as evenly as can be; bracket by bracket, half a point saved at the top could cost two at the
//     bottom. Of more than 64 different ones that a round cannot do without, the 64 largest are weighed;
//   - within a score group the top half meets the bottom half with the fewest exchanges between the halves and then
//     by the least sum of squares of the distance from that ideal, not by the order in which the rule book tries
//     transpositions and exchanges; of equal ones the best keep their ideal opponents, which mostly gives what the
//     rule book would;
//   - floaters are the lowest of their group and meet the highest of the next by the same measure, the higher of two
//     the higher opponent;
//   - what is still equal is decided by lot;
//   - score groups beyond the 64th from the top have no rules of their own: the fewest groups are left, in all;
//   - top scorers of the last round are free of the side rules without C8 and C9 counting how much;
//   - two who share a car meet only where no pairing by the absolute rules can spare it, which no rule book knows.
//
// Same entries and same options give the same pairing. It takes O(n^3) time.
func NextSwissRound(entries []SwissEntry, o SwissOptions) (SwissRound, error) {
	if err := checkSwiss(entries, o); err != nil {
		return SwissRound{}, err
	}
	s := newSwiss(entries, o)
	round := SwissRound{Bye: -1}
	mate, err := s.solve()
	if err != nil {
		return SwissRound{}, err
	}
	for v, w := range mate {
		switch {
		case w == len(s.field): // the bye
			round.Bye = s.field[v]
			round.ByeReasons = []Reason{ByeLowest}
			if entries[round.Bye].HadBye {
				round.ByeReasons = append(round.ByeReasons, RelaxedBye)
			}
		case v < w && w < len(s.field):
			round.Pairs = append(round.Pairs, s.pair(s.field[v], s.field[w]))
		}
	}
	better := func(p SwissPair) (points int64, entry int) {
		a, b := p.First, p.Second
		if s.before(b, a) {
			a = b
		}
		return entries[a].Points, a
	}
	slices.SortFunc(round.Pairs, func(p, q SwissPair) int {
		pPoints, pEntry := better(p)
		qPoints, qEntry := better(q)
		return cmp.Or(cmp.Compare(qPoints, pPoints), cmp.Compare(pEntry, qEntry))
	})
	return round, nil
}

// swiss is a round being paired.
type swiss struct {
	entries []SwissEntry
	options SwissOptions
	field   []int // the entries present, by points and then by number
	group   []int // of each in the field, from 0 for the most points
	place   []int // of each in the field within its group
	size    []int // of each group
	side    []preference
	noLeft  []bool  // who in the field may not have the left side
	noRight []bool  // nor the right
	lots    []int64 // of every two in the field
	// differences are the score differences that have a criterion, the largest first; none where the leavers of the
	// groups settle them.
	differences []int64
}

func newSwiss(entries []SwissEntry, o SwissOptions) *swiss {
	s := &swiss{entries: entries, options: o}
	for i, e := range entries {
		if !e.Absent {
			s.field = append(s.field, i)
		}
	}
	slices.SortStableFunc(s.field, func(a, b int) int { return cmp.Compare(entries[b].Points, entries[a].Points) })
	for i, e := range s.field {
		if i == 0 || entries[e].Points != entries[s.field[i-1]].Points {
			s.size = append(s.size, 0)
		}
		g := len(s.size) - 1
		s.group = append(s.group, g)
		s.place = append(s.place, s.size[g])
		s.size[g]++
		s.side = append(s.side, preferred(entries[e].Sides))
		s.noLeft = append(s.noLeft, breaksSides(entries[e].Sides, Left))
		s.noRight = append(s.noRight, breaksSides(entries[e].Sides, Right))
	}
	s.drawLots()
	return s
}

// before says whether entry a ranks before entry b: by points, then by number.
func (s *swiss) before(a, b int) bool {
	if s.entries[a].Points != s.entries[b].Points {
		return s.entries[a].Points > s.entries[b].Points
	}
	return a < b
}

// topScorer says whether it is the last round and the entry has more than half of what could be had before it.
func (s *swiss) topScorer(e int) bool {
	o := s.options
	return o.Round == o.Rounds && 2*s.entries[e].Points > o.Win*int64(o.Round-1)
}

// pair gives the sides and says why.
func (s *swiss) pair(a, b int) SwissPair {
	if s.before(b, a) {
		a, b = b, a
	}
	p := SwissPair{First: a, Second: b}
	if s.entries[a].Points == s.entries[b].Points {
		p.Reasons = append(p.Reasons, SameScore)
	} else {
		p.Reasons = append(p.Reasons, FloatsDown)
	}
	side, why := s.sideOf(a, b)
	if side == Right {
		p.First, p.Second = b, a
	}
	p.Reasons = append(p.Reasons, why)
	if slices.Contains(s.entries[a].Opponents, b) {
		p.Reasons = append(p.Reasons, RelaxedRemeet)
	}
	if breaksSides(s.entries[a].Sides, side) || breaksSides(s.entries[b].Sides, -side) {
		if s.topScorer(a) || s.topScorer(b) {
			p.Reasons = append(p.Reasons, TopScorers)
		} else {
			p.Reasons = append(p.Reasons, RelaxedSide)
		}
	}
	if s.sameCar(a, b) {
		p.Reasons = append(p.Reasons, OneCar)
	}
	return p
}

func (s *swiss) sameCar(a, b int) bool {
	return s.entries[a].Car >= 0 && s.entries[a].Car == s.entries[b].Car
}
