package matching

// label is what a top-level blossom is in the tree that is being grown.
type label uint8

const (
	unlabelled label = iota
	labelS           // outer: an even number of edges from the root
	labelT           // inner
)

// none stands for no vertex, no blossom and no row.
const none int32 = -1

// solver is the state of a search. Vertices and blossoms share one numbering: 0..n-1 are the vertices, which are
// trivial blossoms, the rest are blossoms of three or more. Everything is a flat array by number.
type solver struct {
	*graph
	mate []int32 // by vertex

	// The blossoms. Children lie in a circle; the edge from a child to the next one joins outEnd, in it, and inEnd,
	// in the next. The vertices of a blossom are a chain from first to last, which its children share.
	parent, child, next, prev, outEnd, inEnd []int32
	base, first, last                        []int32
	chain, top                               []int32 // by vertex
	z                                        column  // the dual of a blossom, when it was last settled
	free                                     []int32 // numbers without a blossom

	// The tree of this stage. now is the sum of all delta so far.
	now            []int64
	label          []label // of top-level blossoms
	entryS, entryT []int32 // the edge by which a T-blossom was reached: its ends in the S-blossom and in it
	since          column  // now when a blossom of three or more got its label
	outer          []int32 // the S-vertices
	inner          []int32 // the T-blossoms of three or more, and some that are none any more
	mark           []int32
	stamp          int32

	// value is u for an unlabelled vertex; of an S-vertex the dual is value - now, of a T-vertex value + now.
	value column
	// open is u for an unlabelled vertex and beyond for others, so that passes need not look at labels.
	open column
	// key is the least value(v) - w(v, x) over the S-vertices v, and from is that v: the slack of the best edge from
	// the tree to an unlabelled x is key + u - now.
	key     column
	from    []int32
	nearest int32 // the x with the least key + open

	lowest  int32 // the S-vertex with the least dual
	bridges bridges
	rows    rows

	event, spare []int64 // scratch
	// steps counts what the inner loops looked at; tests hold its growth.
	steps int64
	// stages counts the trees.
	stages int
}

func newSolver(g *graph) *solver {
	n, words := g.n, g.words
	all := n + n/2 // Nested odd sets of three or more are fewer than half the vertices.
	index := func(length int) []int32 { return make([]int32, length) }
	s := &solver{
		graph: g, mate: index(n),
		parent: index(all), child: index(all), next: index(all), prev: index(all),
		outEnd: index(all), inEnd: index(all), base: index(all), first: index(all), last: index(all),
		chain: index(n), top: index(n), z: newColumn(words, all), free: make([]int32, 0, n/2),
		now: make([]int64, words), label: make([]label, all), entryS: index(all), entryT: index(all),
		since: newColumn(words, all), outer: make([]int32, 0, n), inner: make([]int32, 0, all), mark: index(all),
		value: newColumn(words, n), open: newColumn(words, n), key: newColumn(words, n), from: index(n),
		bridges: bridges{make([]bridge, 0, 2*n), newColumn(words, 2*n), -1},
		rows:    rows{n: n, words: words, of: index(all)},
		event:   make([]int64, words), spare: make([]int64, words),
	}
	for v := range int32(n) {
		s.mate[v], s.parent[v] = none, none
		s.base[v], s.first[v], s.last[v], s.top[v] = v, v, v, v
	}
	for b := int32(all) - 1; b >= int32(n); b-- {
		s.base[b] = none
		s.free = append(s.free, b)
	}
	return s
}

// solve finds the matching: a cheap start, then one stage for each vertex still free whose dual is above zero.
func solve(g *graph) (*solver, error) {
	s := newSolver(g)
	if !s.start() {
		return nil, tooLarge()
	}
	for v := range int32(g.n) {
		if s.mate[v] == none && !isZero(s.value.at(v)) {
			if !s.stage(v) {
				return nil, tooLarge()
			}
		}
	}
	if !s.checkable() {
		return nil, tooLarge()
	}
	return s, nil
}

// checkable says whether the duals of the blossoms around each vertex can be added in any order.
func (s *solver) checkable() bool {
	if s.words == 1 {
		return true // They add up to no more than the weight of an edge.
	}
	total := make([]int64, s.words)
	for v := range int32(s.n) {
		clear(total)
		for b := s.parent[v]; b != none; b = s.parent[b] {
			for k, z := range s.z.at(b) {
				total[k] += max(z, -z)
			}
			if s.tooFar(total) {
				return false
			}
		}
	}
	return true
}

// start sets duals that no edge exceeds, each half the greatest weight of its vertex, then lowers that of each free
// vertex until an edge is tight and takes the edge if it can. It reports false if a dual grew too large.
func (s *solver) start() bool {
	u := s.value
	for v := range int32(s.n) {
		s.highest(u.at(v), v)
		for k, w := range u.at(v) {
			u.at(v)[k] = w / 2
		}
	}
	for v := range int32(s.n) {
		if s.mate[v] != none {
			continue
		}
		partner := s.leastSlack(v)
		difference(u.at(v), u.at(v), s.event)
		if s.tooFar(u.at(v)) {
			return false
		}
		if partner != none && s.mate[partner] == none {
			s.mate[v], s.mate[partner] = partner, v
		}
	}
	copy(s.open.cells, u.cells)
	return true
}

// tooFar says whether a dual or a delta is so large that sums of them may overflow. The first word never is.
func (s *solver) tooFar(value []int64) bool { return s.words > 1 && !within(value, valueLimit) }

// weightOf returns the doubled weight of an edge.
func (s *solver) weightOf(v, x int32) []int64 {
	start := (int(v)*s.n + int(x)) * s.words
	return s.doubled.cells[start : start+s.words : start+s.words]
}

func (s *solver) mates() []int {
	mate := make([]int, s.n)
	for v, w := range s.mate {
		mate[v] = int(w)
	}
	return mate
}
