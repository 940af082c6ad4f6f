package measure

import "slices"

// marks knows the places of the marks on the roller.
type marks struct {
	count int
	part  []float64 // of a turn, from each mark to the next
	scale []float64 // part over its mean: what a gap is divided by
	per   []float64 // one over scale
	even  bool
}

// newMarks returns the marks of a bench.
func newMarks(b Bench) marks {
	m := marks{count: b.MarksPerTurn, part: b.steps(), even: true}
	m.weigh()
	m.even = len(b.MarkAngles) == 0
	return m
}

// weigh derives the scales from the parts.
func (m *marks) weigh() {
	m.scale, m.per = make([]float64, m.count), make([]float64, m.count)
	for i, p := range m.part {
		m.scale[i] = p * float64(m.count)
		m.per[i] = 1 / m.scale[i]
	}
}

// unevenMarks returns marks with the given parts of a turn between them.
func unevenMarks(part []float64) marks {
	m := marks{count: len(part), part: slices.Clone(part)}
	m.weigh()
	return m
}

// spanned returns the mean steps that n gaps from mark i cover: n exactly where
// the marks are even.
func (m *marks) spanned(i int64, n int) float64 {
	if m.even {
		return float64(n)
	}
	sum := 0.0
	for k := range int64(n) {
		sum += m.scale[(i+k)%int64(m.count)]
	}
	return sum
}

// turns returns the turns from mark i over n steps. For whole turns it is exact.
func (m *marks) turns(i, n int64) float64 {
	count := int64(m.count)
	whole, rest := n/count, n%count
	sum := 0.0
	if m.even {
		sum = float64(rest) / float64(count)
	} else {
		for k := range rest {
			sum += m.part[(i+k)%count]
		}
	}
	return float64(whole) + sum
}

// smallest returns the smallest scale.
func (m *marks) smallest() float64 {
	least := m.scale[0]
	for _, s := range m.scale {
		least = min(least, s)
	}
	return least
}
