package bracket

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

// pair returns what two cost, the first of whom stands before the second.
func (p *packing) pair(v, w int) []int64 {
	return p.cost(func(c criterion) int64 { return c.pair(v, w) })
}

// byeOf returns what the bye of one costs.
func (p *packing) byeOf(v int) []int64 {
	return p.cost(func(c criterion) int64 { return c.bye(v) })
}
