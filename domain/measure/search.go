package measure

import "math"

const (
	// seekSize is how many stamps are judged together while no speed is known.
	seekSize = 12
	// seekMost is the largest number of passes that one gap may hold then, and
	// seekSkip the largest number of stamps that may be left out inside it.
	seekMost = 3
	seekSkip = 3

	seekCostExtra = 0.30 // of leaving a stamp out
	seekCostFirst = 1.20 // of leaving out the first one: a start from rest has a long first gap
	seekCostLast  = 0.70 // of leaving out the last one
	seekCostMiss  = 0.50 // of filling a pass in
	seekSlower    = 2.0  // a roller that is found turning slower than expected costs that much more
	seekWorst     = 0.8  // mean cost a gap above which there is no order in the stamps
)

// node is a stamp of a path, with the mark that it belongs to and the passes
// since the node before.
type node struct {
	stamp  int
	mark   int64
	passes int
}

// search finds the cheapest reading of a few stamps: which are genuine, how many
// passes each gap holds and, for unequal marks, which mark came first. Each gap
// is compared with the one that a roller under constant acceleration would show
// after the two before it; the absolute logarithm of the ratio is the cost, and
// each stamp left out and each pass filled in has its price. Dynamic programming
// over the last gap, keeping for each the best way to it: about n times
// (4 times 3) squared comparisons for n stamps, times the number of marks where
// these are unequal.
type search struct {
	cost   float64
	length int // gaps in the path
	path   [seekSize]node

	reached [seekSize][seekSkip + 1][seekMost]reading // by last stamp, stamps skipped, passes less one
}

// reading is the cheapest way to read the stamps up to a gap.
type reading struct {
	cost         float64
	skip, passes int     // of the gap before; passes 0 means that this is the first gap
	gap, speed   float64 // µs, and mean steps per µs in it
	end          int64   // the mark at its end
}

// run fills in the cheapest reading of two or more stamps in ascending order.
func (s *search) run(stamps []int64, m *marks) {
	s.length, s.cost = 0, math.Inf(1)
	rotations := 1
	if !m.even {
		rotations = m.count
	}
	for first := range rotations {
		s.try(stamps, m, int64(first))
	}
}

// try searches with the first stamp of the path on a given mark.
func (s *search) try(stamps []int64, m *marks, first int64) {
	n := len(stamps)
	for j := 1; j < n; j++ {
		for skip := 0; skip <= seekSkip && skip < j; skip++ {
			for passes := 1; passes <= seekMost; passes++ {
				s.reached[j][skip][passes-1] = s.best(stamps, m, first, j, skip, passes)
			}
		}
	}
	// The last stamp may be the one that is wrong: the path may end one before.
	for j := max(1, n-2); j < n; j++ {
		for skip := 0; skip <= seekSkip && skip < j; skip++ {
			for passes := 1; passes <= seekMost; passes++ {
				c := s.reached[j][skip][passes-1].cost + float64(n-1-j)*seekCostLast
				if c < s.cost {
					s.cost = c
					s.trace(j, skip, passes, first, int64(m.count))
				}
			}
		}
	}
}

// best finds the cheapest reading whose last gap ends at stamp j.
func (s *search) best(stamps []int64, m *marks, first int64, j, skip, passes int) reading {
	i := j - 1 - skip
	gap := float64(max(1, stamps[j]-stamps[i]))
	own := float64(skip)*seekCostExtra + float64(passes-1)*seekCostMiss
	r := reading{
		cost: own + float64(i)*seekCostFirst, gap: gap,
		speed: m.spanned(first, passes) / gap, end: (first + int64(passes)) % int64(m.count),
	}
	for before := 0; before <= seekSkip && before < i; before++ {
		for p := 1; p <= seekMost; p++ {
			last := &s.reached[i][before][p-1]
			if last.cost+own >= r.cost {
				continue
			}
			steps := m.spanned(last.end, passes)
			c := last.cost + own
			if last.passes == 0 {
				c += surpriseAtFirst(math.Log(steps / gap / last.speed))
			} else {
				prior := &s.reached[i-1-before][last.skip][last.passes-1]
				c += surprise(math.Log(ahead(prior.speed, prior.gap, last.speed, last.gap, steps) / gap))
			}
			if c < r.cost {
				r = reading{c, before, p, gap, steps / gap, (last.end + int64(passes)) % int64(m.count)}
			}
		}
	}
	return r
}

// surprise is the cost of a roller that is faster than expected by a logarithm.
func surprise(faster float64) float64 {
	if faster < 0 {
		return -seekSlower * faster
	}
	return faster
}

// surpriseAtFirst is the cost for the second gap: from rest with a mark just
// past the sensor it is shorter than the first by a factor of 1 + sqrt 2.
func surpriseAtFirst(faster float64) float64 {
	const natural = 0.95
	if faster < 0 {
		return -seekSlower * faster
	}
	return 0.1*faster + max(0, faster-natural)
}

// ahead predicts the time of the next steps from the speeds and gaps of the last
// two stretches, for a roller under constant acceleration: with speed w now and
// acceleration a, n steps take 2n / (w + sqrt(w^2 + 2an)). A roller that would
// stop before is given three times its last gap.
func ahead(speed0, gap0, speed1, gap1, steps float64) float64 {
	accel := (speed1 - speed0) / ((gap0 + gap1) / 2)
	now := speed1 + accel*gap1/2
	square := now*now + 2*accel*steps
	if now <= 0 || square <= 0 {
		return 3 * steps / speed1
	}
	return min(3*steps/speed1, 2*steps/(now+math.Sqrt(square)))
}

// trace writes the path that ends with the given gap.
func (s *search) trace(j, skip, passes int, first, count int64) {
	var back [seekSize]node
	k := 0
	for passes > 0 {
		back[k] = node{stamp: j, passes: passes}
		k++
		r := &s.reached[j][skip][passes-1]
		j, skip, passes = j-1-skip, r.skip, r.passes
	}
	s.length = k
	s.path[0] = node{stamp: j, mark: first}
	mark := first
	for x := 1; x <= k; x++ {
		s.path[x] = back[k-x]
		mark = (mark + int64(s.path[x].passes)) % count
		s.path[x].mark = mark
	}
}
