package matching

import "slices"

// column holds one weight of several words for each index, all in one flat array.
type column struct {
	words int
	cells []int64
}

func newColumn(words, length int) column {
	return column{words, make([]int64, words*length)}
}

// at returns the weight at an index, to be read or written in place.
func (c column) at(i int32) []int64 {
	start := int(i) * c.words
	return c.cells[start : start+c.words : start+c.words]
}

// fill sets every weight to one that differs from zero in the first word only.
func (c column) fill(first int64) {
	if c.words == 1 {
		for i := range c.cells {
			c.cells[i] = first
		}
		return
	}
	clear(c.cells)
	for i := 0; i < len(c.cells); i += c.words {
		c.cells[i] = first
	}
}

// set copies a weight; a loop is faster than copy for the few words of one.
func set(dst, a []int64) {
	for i := range dst {
		dst[i] = a[i]
	}
}

// sum sets dst to a + b, difference to a - b; dst may be one of them.
func sum(dst, a, b []int64) {
	for i := range dst {
		dst[i] = a[i] + b[i]
	}
}

func difference(dst, a, b []int64) {
	for i := range dst {
		dst[i] = a[i] - b[i]
	}
}

// halfway sets dst to a + b/2, of which b must be even in every word.
func halfway(dst, a, b []int64) {
	for i := range dst {
		dst[i] = a[i] + b[i]/2
	}
}

// less compares by the first word that differs.
func less(a, b []int64) bool {
	if a[0] != b[0] {
		return a[0] < b[0]
	}
	return len(a) > 1 && slices.Compare(a, b) < 0
}

func isZero(a []int64) bool {
	for _, w := range a {
		if w != 0 {
			return false
		}
	}
	return true
}

// sign returns -1, 0 or 1.
func sign(a []int64) int {
	for _, w := range a {
		switch {
		case w < 0:
			return -1
		case w > 0:
			return 1
		}
	}
	return 0
}

// within says whether no word is further from zero than limit.
func within(a []int64, limit int64) bool {
	for _, w := range a {
		if w > limit || w < -limit {
			return false
		}
	}
	return true
}
