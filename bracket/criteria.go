package bracket

// criterion is one rule of the pairing of a Swiss round: what a pair costs, and the most that it can cost. Rules are
// weighed in order: any number of lower ones never outweighs a higher one.
type criterion struct {
	most int64
	// pair is the cost of two in the field, the first of whom stands before the second.
	pair func(v, w int) int64
	// bye is the cost of the bye.
	bye func(v int) int64
}

// criteria lists the rules in order.
func (s *swiss) criteria() []criterion {
	none := func(int) int64 { return 0 }
	entry := func(v int) *SwissEntry { return &s.entries[s.field[v]] }
	rules := []criterion{
		{int64(s.options.Rounds), s.meetings, none},
		{1, s.never, func(v int) int64 { return one(entry(v).HadBye) }},
		{1, s.sidesClash, none},
		{1, func(v, w int) int64 { return one(s.sameCar(s.field[v], s.field[w])) }, none},
		{int64(len(s.size)), s.never, func(v int) int64 { return int64(len(s.size) - 1 - s.group[v]) }},
	}
	for g := range len(s.size) - 1 { // Who leaves the groups 0..g downward.
		rules = append(rules, criterion{
			1, func(v, w int) int64 { return one(s.group[v] <= g && s.group[w] > g) },
			func(v int) int64 { return one(s.group[v] <= g) },
		})
	}
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
	largest := int64(0)
	for _, size := range s.size {
		largest = max(largest, int64(size))
	}
	return append(rules, criterion{2 * largest * largest, s.distance, func(v int) int64 {
		below := int64(s.size[s.group[v]] - 1 - s.place[v])
		return below * below
	}})
}

func (s *swiss) never(int, int) int64 { return 0 }

// meetings counts how often the two have met.
func (s *swiss) meetings(v, w int) int64 {
	n := int64(0)
	for _, other := range s.entries[s.field[v]].Opponents {
		n += one(other == s.field[w])
	}
	return min(n, int64(s.options.Rounds))
}

// sidesClash says whether both must have one side; top scorers of the last round are free of it.
func (s *swiss) sidesClash(v, w int) int64 {
	return one(s.bothDue(v, w, absolute) && !s.topScorer(s.field[v]) && !s.topScorer(s.field[w]))
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

// distance is how far a pair is from the ideal: within a group the entries half a group apart, between groups the
// lowest of the upper and the highest of the lower one.
func (s *swiss) distance(v, w int) int64 {
	if s.group[v] == s.group[w] {
		d := int64(s.place[w] - s.place[v] - s.size[s.group[v]]/2)
		return d * d
	}
	below, above := int64(s.size[s.group[v]]-1-s.place[v]), int64(s.place[w])
	return below*below + above*above
}

// wordBits bounds the total of one word of a weight, so that sums of many weights stay far from overflow.
const wordBits = 44

// packing puts the criteria into as few words as hold them: in each word a higher criterion is worth more than all
// pairs together can cost by the lower ones, so that comparing totals word by word compares rule by rule.
type packing struct {
	rules []criterion
	word  []int
	radix []int64 // what the word is multiplied by before the rule's cost is added
	words int
}

func (s *swiss) pack() packing {
	p := packing{rules: s.criteria()}
	pairs := int64(len(s.field)/2 + 1)
	room := int64(0)
	for _, rule := range p.rules {
		limit := rule.most*pairs + 1
		if p.words == 0 || room < limit {
			p.words++
			room = 1 << wordBits
		}
		room /= limit
		p.word = append(p.word, p.words-1)
		p.radix = append(p.radix, limit)
	}
	return p
}

// cost returns the words of a cost by rule.
func (p *packing) cost(of func(criterion) int64) []int64 {
	words := make([]int64, p.words)
	for i, rule := range p.rules {
		words[p.word[i]] = words[p.word[i]]*p.radix[i] + of(rule)
	}
	return words
}

func (p *packing) pair(v, w int) []int64 {
	return p.cost(func(c criterion) int64 { return c.pair(v, w) })
}

func (p *packing) byeOf(v int) []int64 {
	return p.cost(func(c criterion) int64 { return c.bye(v) })
}
