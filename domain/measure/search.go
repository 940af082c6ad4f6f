package measure

import "math"

const (
	// seekSize is how many stamps are judged together while no speed is known.
	seekSize = 12
	// seekMost is the largest number of passes that one gap may hold then, and
	// seekSkip the largest number of stamps that may be left out inside it.
	seekMost = 3
	seekSkip = 3

	seekCostExtra  = 0.30 // of leaving a stamp out
	crossCostFirst = 0.20 // of leaving out the first one beyond a gap, which is no start
	seekCostFirst  = 1.20 // of leaving out the first one: a start from rest has a long first gap
	seekCostLast   = 0.15 // of leaving the last one to be judged by the prediction
	seekCostMiss   = 0.35 // of filling a pass in
	seekSlower     = 2.0  // a roller that is found turning slower than expected costs that much more
	settleWorst    = 0.15 // mean cost a gap up to which a reading is a plain one
	crossWorst     = 0.25 // mean cost a gap above which the far side of a gap is not found yet
	seekWorst      = 0.8  // mean cost a gap above which there is no order in the stamps
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
// each stamp left out and each pass filled in has its price.
//
// It is dynamic programming over the last two gaps. As costs only grow, every
// reading above a limit is dropped, and the limit is raised until one is left:
// a clean train takes a few dozen comparisons, the worst one some 20,000.
type search struct {
	first  float64 // the cost of leaving out the first stamp
	most   float64 // a reading that costs more is of no use; 0 means that any is
	cost   float64
	length int // gaps in the path
	path   [seekSize]node

	reached [seekSize][seekHops][seekHops + 1]reading // by last stamp, last gap, gap before
}

// hop is a gap by what it holds: stamps left out inside it, and passes.
type hop int8

const (
	seekHops = (seekSkip + 1) * seekMost
	noHop    = hop(seekHops) // stands for the gap before the first one
)

func (h hop) skip() int   { return int(h) / seekMost }
func (h hop) passes() int { return int(h)%seekMost + 1 }

// reading is the cheapest way to read the stamps up to two given gaps. A cost of
// zero and no mark means that there is none.
type reading struct {
	cost   float64
	before hop  // the gap before the two
	end    int8 // the mark at the end
	found  bool
}

// run fills in the cheapest reading of two or more stamps in ascending order.
func (s *search) run(stamps []int64, m *marks) {
	rotations := 1
	if !m.even {
		rotations = m.count
	}
	most := math.Inf(1)
	if s.most > 0 {
		most = s.most
	}
	for limit := 0.4; ; limit *= 2 {
		if limit > 3 {
			limit = math.Inf(1)
		}
		limit = min(limit, most)
		s.length, s.cost = 0, limit
		for first := range rotations {
			s.try(stamps, m, int64(first))
		}
		if s.length > 0 || limit == most {
			return
		}
	}
}

// try searches with the first stamp of the path on a given mark, for a reading
// that costs less than s.cost.
func (s *search) try(stamps []int64, m *marks, first int64) {
	n := len(stamps)
	for j := range n {
		s.reached[j] = [seekHops][seekHops + 1]reading{}
	}
	for j := 1; j < n; j++ {
		for h := range noHop {
			if h.skip() < j {
				s.arrive(stamps, m, first, j, h)
			}
		}
	}
	// The last stamp may be the one that is wrong: the path may end one before.
	for j := max(1, n-2); j < n; j++ {
		for h := range noHop {
			for g := range noHop + 1 {
				r := &s.reached[j][h][g]
				if c := r.cost + float64(n-1-j)*seekCostLast; r.found && c < s.cost {
					s.cost = c
					s.trace(j, h, g, first, int64(m.count))
				}
			}
		}
	}
}

// arrive finds the cheapest readings whose last gap is h and ends at stamp j,
// one for each gap before it.
func (s *search) arrive(stamps []int64, m *marks, first int64, j int, h hop) {
	i := j - 1 - h.skip()
	gap := float64(max(1, stamps[j]-stamps[i]))
	own := float64(h.skip())*seekCostExtra + float64(h.passes()-1)*seekCostMiss
	count := int64(m.count)
	// As the first gap of a reading: what came before stamp i is left out, each at its price.
	if c := own + float64(i)*s.first; c < s.cost {
		s.reached[j][h][noHop] = reading{c, noHop, int8((first + int64(h.passes())) % count), true}
	}
	for g := range noHop {
		best := &s.reached[j][h][g]
		for f := range noHop + 1 {
			// Costs only grow, so what is no better than a reading that is there is not looked at.
			last := &s.reached[i][g][f]
			if !last.found || last.cost+own >= s.cost || best.found && last.cost+own >= best.cost {
				continue
			}
			steps := m.spanned(int64(last.end), h.passes())
			i1 := i - 1 - g.skip()
			// Counted back from the mark at the end; the turns that are added keep the number above zero.
			mark1 := (int64(last.end) + int64(seekMost)*count - int64(g.passes())) % count
			gap1 := float64(max(1, stamps[i]-stamps[i1]))
			speed1 := m.spanned(mark1, g.passes()) / gap1
			c := last.cost + own
			// After one gap alone there is a speed, and no acceleration yet.
			if f == noHop {
				c += surpriseAtFirst(math.Log(steps / gap / speed1))
			} else {
				i0 := i1 - 1 - f.skip()
				mark0 := (mark1 + int64(seekMost)*count - int64(f.passes())) % count
				gap0 := float64(max(1, stamps[i1]-stamps[i0]))
				speed0 := m.spanned(mark0, f.passes()) / gap0
				c += surprise(math.Log(ahead(speed0, gap0, speed1, gap1, steps) / gap))
			}
			if c < s.cost && (!best.found || c < best.cost) {
				*best = reading{c, f, int8((int64(last.end) + int64(h.passes())) % count), true}
			}
		}
	}
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
	const natural = 0.88
	if faster < 0 {
		return -seekSlower * faster
	}
	return 0.1*faster + 2*max(0, faster-natural)
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

// trace writes the path that ends with the gaps g and h.
func (s *search) trace(j int, h, g hop, first, count int64) {
	var back [seekSize]node
	k := 0
	for h != noHop {
		back[k] = node{stamp: j, passes: h.passes()}
		k++
		before := s.reached[j][h][g].before
		j -= 1 + h.skip()
		h, g = g, before
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

// falseStart reports whether the first stamp of the path cannot be a pass: by the
// rise that the others show the roller did not yet turn then, or stood between
// two marks. A long first gap is natural, so the search itself accepts it.
func (s *search) falseStart(stamps []int64) bool {
	if s.length < seekSize/2 {
		return false
	}
	var r rise
	r.begin(float64(stamps[s.path[1].stamp]))
	for _, n := range s.path[2 : s.length+1] {
		r.add(float64(stamps[n.stamp]), float64(n.passes))
	}
	elapsed, passes := float64(stamps[s.path[1].stamp]-stamps[s.path[0].stamp]), float64(s.path[1].passes)
	if r.flat() || math.Abs(r.backQuickly(elapsed)-passes) < 0.1 {
		return false // there is nothing to doubt, and the fit costs as much as ten thousand stamps
	}
	w := r.back(elapsed, riseFloor)
	return math.Abs(w.steps-passes) > 0.12+2*w.u
}
