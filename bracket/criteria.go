package bracket

import "slices"

// criterion is one rule of the pairing of a Swiss round: what a pair costs, and the most that it can cost. Rules are
// weighed in order: any number of lower ones never outweighs a higher one.
type criterion struct {
	most int64
	// pair is the cost of two in the field, the first of whom stands before the second.
	pair func(v, w int) int64
	// bye is the cost of the bye.
	bye func(v int) int64
}

// groupRules is how many score groups have a rule of their own. The memory for the costs grows with the rules, and
// a Swiss of nine rounds with draws has 19 groups; more of them come only of points that differ for other reasons.
const groupRules = 64

// criteria lists the rules in order.
func (s *swiss) criteria() []criterion {
	none := func(int) int64 { return 0 }
	entry := func(v int) *SwissEntry { return &s.entries[s.field[v]] }
	last := len(s.size) - 1
	rules := []criterion{
		{s.longest(), s.meetings, none},
		{1, s.never, func(v int) int64 { return one(entry(v).HadBye) }},
		{1, s.sidesClash, none},
		{1, func(v, w int) int64 { return one(s.sameCar(s.field[v], s.field[w])) }, none},
		{int64(last), s.never, func(v int) int64 { return int64(last - s.group[v]) }},
	}
	for g := range min(last, groupRules) { // Who leaves the groups 0..g downward.
		rules = append(rules, criterion{
			1, func(v, w int) int64 { return one(s.group[v] <= g && s.group[w] > g) },
			func(v int) int64 { return one(s.group[v] <= g) },
		})
	}
	if last > groupRules { // How many of the other groups are left, in all.
		low := func(v int) int64 { return int64(max(s.group[v], groupRules)) }
		rules = append(rules, criterion{
			int64(last), func(v, w int) int64 { return low(w) - low(v) },
			func(v int) int64 { return int64(last) - low(v) },
		})
	}
	rules = append(rules, s.differenceRules()...)
	rules = append(rules,
		criterion{1, func(v, w int) int64 { return one(s.bothDue(v, w, mild)) }, none},
		criterion{1, func(v, w int) int64 { return one(s.bothDue(v, w, strong)) }, none},
	)
	for back := 1; back <= 2; back++ {
		rules = append(rules,
			criterion{
				1, func(v, w int) int64 { return one(s.group[v] != s.group[w] && s.floated(v, back, FloatDown)) },
				func(v int) int64 { return one(s.floated(v, back, FloatDown)) },
			},
			criterion{
				1, func(v, w int) int64 { return one(s.group[v] != s.group[w] && s.floated(w, back, FloatUp)) }, none,
			},
		)
	}
	return append(rules, s.order()...)
}

// mostDifferences is how many score differences have a rule of their own, for the sake of memory: the largest of those
// that a round cannot do without. With half points there are seldom more than four.
const mostDifferences = 64

// differencesToWeigh lists the score differences that the rules must weigh, the largest first: those up to the largest
// of a pairing, or none where nobody in it leaves a group for another than the next.
func (s *swiss) differencesToWeigh(mate []int) []int64 {
	largest, far := int64(0), len(s.size)-1 > groupRules
	for v, w := range mate {
		if v < w && w < len(s.field) {
			largest = max(largest, s.difference(v, w))
			far = far || s.group[w]-s.group[v] > 1
		}
	}
	if !far {
		return nil
	}
	var first []int // of each group
	for v, g := range s.group {
		if g == len(first) {
			first = append(first, v)
		}
	}
	var all []int64
	for i, v := range first {
		for _, w := range first[i+1:] {
			if d := s.difference(v, w); d <= largest {
				all = append(all, d)
			}
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	slices.Reverse(all)
	return all[:min(len(all), mostDifferences)]
}

// difference is the score difference of two in the field, the first of whom stands before the second.
func (s *swiss) difference(v, w int) int64 {
	return s.entries[s.field[v]].Points - s.entries[s.field[w]].Points
}

// differenceRules weigh the differences of all pairs, sorted: fewest of the largest, then of the next.
func (s *swiss) differenceRules() []criterion {
	none := func(int) int64 { return 0 }
	var rules []criterion
	for i, d := range s.differences {
		if i == 0 {
			rules = append(rules, criterion{1, func(v, w int) int64 { return one(s.difference(v, w) > d) }, none})
		}
		rules = append(rules, criterion{1, func(v, w int) int64 { return one(s.difference(v, w) == d) }, none})
	}
	return rules
}

// order lists the last rules, which decide between opponents who are equally good by all others.
func (s *swiss) order() []criterion {
	none := func(int) int64 { return 0 }
	largest := int64(0)
	for _, size := range s.size {
		largest = max(largest, int64(size))
	}
	return []criterion{
		{1, s.halvesMixed, none},
		{2 * largest * largest, s.distance, func(v int) int64 { return s.below(v) * s.below(v) }},
		{largest, func(v, w int) int64 { return one(s.group[v] != s.group[w]) * s.below(v) }, s.below},
		{largest * largest * largest, s.disturbance, none},
		{1<<lotBits - 1, s.lotOf, func(v int) int64 { return s.lotOf(v, len(s.field)) }},
	}
}

func (s *swiss) never(int, int) int64 { return 0 }

// longest is the most rounds that anybody has behind, so that nobody has met anybody more often.
func (s *swiss) longest() int64 {
	most := 0
	for _, e := range s.field {
		most = max(most, len(s.entries[e].Opponents))
	}
	return int64(most)
}

// meetings counts how often the two have met.
func (s *swiss) meetings(v, w int) int64 {
	n := int64(0)
	for _, other := range s.entries[s.field[v]].Opponents {
		n += one(other == s.field[w])
	}
	return n
}

// sidesClash says whether the two cannot have sides without one of them having a side too often; top scorers of the
// last round are free of it.
func (s *swiss) sidesClash(v, w int) int64 {
	if s.topScorer(s.field[v]) || s.topScorer(s.field[w]) {
		return 0
	}
	return one((s.noLeft[v] || s.noRight[w]) && (s.noRight[v] || s.noLeft[w]))
}

// bothDue says whether both are due one side at least so much.
func (s *swiss) bothDue(v, w int, least strength) bool {
	p, q := s.side[v], s.side[w]
	return p.side == q.side && p.strength >= least && q.strength >= least
}

// floated says whether an entry floated so many rounds ago.
func (s *swiss) floated(v, back int, f Float) bool {
	floats := s.entries[s.field[v]].Floats
	return len(floats) >= back && floats[len(floats)-back] == f
}

// below counts those of its group who stand below an entry.
func (s *swiss) below(v int) int64 { return int64(s.size[s.group[v]] - 1 - s.place[v]) }

// halvesMixed says whether two are of the top half of one group, so that one of them counts as of the bottom half.
func (s *swiss) halvesMixed(v, w int) int64 {
	return one(s.group[v] == s.group[w] && s.place[w] < s.size[s.group[v]]/2)
}

// distance is how far a pair is from the ideal: within a group the entries half a group apart, between groups the
// lowest of the upper and the highest of the lower one.
func (s *swiss) distance(v, w int) int64 {
	if s.group[v] == s.group[w] {
		d := int64(s.place[w] - s.place[v] - s.size[s.group[v]]/2)
		return d * d
	}
	below, above := s.below(v), int64(s.place[w])
	return below*below + above*above
}

// disturbance tells pairings with equal distances apart as the rule book would: within a group it weighs a distance the
// more, the higher the pair stands, so that the best keep their ideal opponents; between groups it is least when the
// higher of two who leave a group meets the higher opponent.
func (s *swiss) disturbance(v, w int) int64 {
	if s.group[v] != s.group[w] {
		return s.below(v) * int64(s.place[w])
	}
	return s.distance(v, w) * s.below(v)
}

// lotBits is how many bits each pair draws. With m pairs that could be made, two pairings are equal by lot too in at
// most m/2^lotBits of all cases (isolating lemma of Mulmuley, Vazirani and Vazirani, "Matching is as easy as matrix
// inversion", 1987): for 512 entries that is less than 1 in 100,000.
const lotBits = 34

// lotOf returns what two of the field drew, the first of whom stands before the second, or one with the bye, which
// stands last.
func (s *swiss) lotOf(v, w int) int64 { return s.lots[w*(w-1)/2+v] }

// drawLots lets every two draw: the second with the first, the third with the first and the second, and so on. So
// the pairing hangs on the seed alone and not on the way in which the best one is found.
func (s *swiss) drawLots() {
	even := len(s.field) + len(s.field)%2
	s.lots = make([]int64, even*(even-1)/2)
	lot := NewLot(s.options.LotSeed)
	for i := range s.lots {
		s.lots[i] = int64(lot.Uint64() >> (64 - lotBits))
	}
}
