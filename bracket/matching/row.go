package matching

import "math"

// row is the least value(v) - w(v, x) over the vertices v of one S-blossom for every vertex x, and that v.
type row struct {
	key  column
	from []int32
}

// rows lends rows to S-blossoms and keeps them for the next stages.
type rows struct {
	n, words int
	all      []row
	of       []int32 // by blossom
	unused   []int32
}

// take lends an empty row.
func (r *rows) take(b int32) row {
	if len(r.unused) == 0 {
		r.all = append(r.all, row{newColumn(r.words, r.n), make([]int32, r.n)})
		r.unused = append(r.unused, int32(len(r.all)-1))
	}
	i := r.unused[len(r.unused)-1]
	r.unused = r.unused[:len(r.unused)-1]
	r.of[b] = i
	r.all[i].key.fill(beyond)
	return r.all[i]
}

func (r *rows) row(b int32) row { return r.all[r.of[b]] }

func (r *rows) release(b int32) { r.unused = append(r.unused, r.of[b]) }

func (r *rows) releaseAll() {
	r.unused = r.unused[:0]
	for i := len(r.all) - 1; i >= 0; i-- {
		r.unused = append(r.unused, int32(i))
	}
}

// relax takes the edges of one S-vertex, whose weights are given, into key and from, and returns the vertex with
// the least key + open, or none. This is the inner loop of the search.
func (s *solver) relax(key column, from []int32, open column, weights []int64, v int32) int32 {
	s.steps += int64(s.n)
	if s.words > 1 {
		return s.relaxWords(key, from, open, weights, v)
	}
	k, f, o := key.cells[:len(weights)], from[:len(weights)], open.cells[:len(weights)]
	value := s.value.cells[v]
	nearest, least := none, int64(math.MaxInt64)
	for x, w := range weights {
		now := k[x]
		if d := value - w; d < now {
			now = d
			k[x] = d
			f[x] = v
		}
		if c := now + o[x]; c < least {
			least = c
			nearest = int32(x)
		}
	}
	return s.ifOpen(nearest)
}

// ifOpen returns none for a vertex that is not open.
func (s *solver) ifOpen(x int32) int32 {
	if x == none || s.open.at(x)[0] >= beyond {
		return none
	}
	return x
}

func (s *solver) relaxWords(key column, from []int32, open column, weights []int64, v int32) int32 {
	words := s.words
	value := s.value.at(v)
	nearest := none
	least := s.event // Free to use: events are looked for afterwards.
	for x := range int32(s.n) {
		start := int(x) * words
		now, w, o := key.cells[start:start+words], weights[start:start+words], open.cells[start:start+words]
		for k := range now {
			d := value[k] - w[k]
			if d > now[k] {
				break
			}
			if d < now[k] {
				difference(now, value, w)
				from[x] = v
				break
			}
		}
		if nearest == none {
			sum(least, now, o)
			nearest = x
			continue
		}
		for k := range now {
			c := now[k] + o[k]
			if c > least[k] {
				break
			}
			if c < least[k] {
				sum(least, now, o)
				nearest = x
				break
			}
		}
	}
	return s.ifOpen(nearest)
}

// fold takes one row into another and returns the vertex with the least key + open, or none.
func (s *solver) fold(key column, from []int32, r row) int32 {
	for x := range int32(s.n) {
		if a, b := r.key.at(x), key.at(x); less(a, b) {
			copy(b, a)
			from[x] = r.from[x]
		}
	}
	s.steps += int64(s.n)
	return s.findNearest()
}

// findNearest returns the unlabelled vertex with the best edge to the tree, or none.
func (s *solver) findNearest() int32 {
	s.steps += int64(s.n)
	nearest := none
	least, c := s.event, s.spare
	for x := range int32(s.n) {
		sum(c, s.key.at(x), s.open.at(x))
		if nearest == none || less(c, least) {
			copy(least, c)
			nearest = x
		}
	}
	return s.ifOpen(nearest)
}

// bridgeFromVertex notes the best edge from a new S-vertex that is no blossom to the other S-vertices.
func (s *solver) bridgeFromVertex(v int32) {
	best := s.nextGap()
	to := none
	value, weights, c := s.value.at(v), s.row(v), s.spare
	for _, x := range s.outer {
		if x == v {
			continue
		}
		sum(c, value, s.value.at(x))
		difference(c, c, weights[int(x)*s.words:int(x+1)*s.words])
		if to == none || less(c, best) {
			copy(best, c)
			to = x
		}
	}
	s.steps += int64(len(s.outer))
	s.addBridge(v, to)
}

// bridgeFromBlossom notes the best edge from a new S-blossom to the S-vertices outside.
func (s *solver) bridgeFromBlossom(b int32, r row) {
	best := s.nextGap()
	to, c := none, s.spare
	for _, x := range s.outer {
		if s.top[x] == b {
			continue
		}
		sum(c, r.key.at(x), s.value.at(x))
		if to == none || less(c, best) {
			copy(best, c)
			to = x
		}
	}
	s.steps += int64(len(s.outer))
	if to != none {
		s.addBridge(r.from[to], to)
	}
}

// nextGap is where the gap of the next bridge goes.
func (s *solver) nextGap() []int64 { return s.gap.at(int32(len(s.bridges))) }

func (s *solver) addBridge(v, x int32) {
	if x == none {
		return
	}
	s.bridges = append(s.bridges, bridge{v, x})
	if i := len(s.bridges) - 1; s.tightest < 0 || less(s.gap.at(int32(i)), s.gap.at(int32(s.tightest))) {
		s.tightest = i
	}
}

// dropBridges forgets the bridges that now lie within a blossom and finds the tightest of the others.
func (s *solver) dropBridges() {
	kept := 0
	s.tightest = -1
	for i, e := range s.bridges {
		if s.top[e.v] == s.top[e.x] {
			continue
		}
		s.bridges[kept] = e
		copy(s.gap.at(int32(kept)), s.gap.at(int32(i)))
		if s.tightest < 0 || less(s.gap.at(int32(kept)), s.gap.at(int32(s.tightest))) {
			s.tightest = kept
		}
		kept++
	}
	s.steps += int64(len(s.bridges))
	s.bridges = s.bridges[:kept]
}
