package matching

import "slices"

// The passes over a row are the inner loops of the search, n steps each. Each has a form for plain weights and one
// for weights of several words.

// highest sets most to the greatest weight of the edges of a vertex, or to zero if all are below.
func (s *solver) highest(most []int64, v int32) {
	s.steps += int64(s.n)
	clear(most)
	row := s.row(v)
	if s.words == 1 {
		most[0] = max(0, slices.Max(row))
		return
	}
	for x := 0; x < len(row); x += s.words {
		if w := row[x : x+s.words]; less(most, w) {
			set(most, w)
		}
	}
}

// leastSlack finds the tightest edge of a vertex, one to a free vertex if possible, and leaves its slack in event.
// Where that is more than the dual of the vertex it is the dual, without an edge.
func (s *solver) leastSlack(v int32) (partner int32) {
	s.steps += int64(s.n)
	if s.words == 1 {
		partner, s.event[0] = slackOne(s.row(v), s.value.cells, s.value.cells[v], s.mate, v)
		return partner
	}
	set(s.event, s.value.at(v))
	partner = none
	for x := range int32(s.n) {
		if x == v {
			continue
		}
		sum(s.spare, s.value.at(v), s.value.at(x))
		difference(s.spare, s.spare, s.weightOf(v, x))
		switch {
		case less(s.spare, s.event):
			set(s.event, s.spare)
			partner = x
		case partner != none && s.mate[partner] != none && s.mate[x] == none && !less(s.event, s.spare):
			partner = x
		}
	}
	return partner
}

// look takes the edges of an S-vertex into the key of the tree and finds the nearest unlabelled vertex.
func (s *solver) look(v int32) {
	s.steps += int64(s.n)
	if s.words == 1 {
		s.nearest = lookOne(s.key.cells, s.from, s.open.cells, s.row(v), s.value.cells[v], v)
		return
	}
	s.collectWords(s.key, s.from, v)
	s.findNearest()
}

// collect takes the edges of an S-vertex into the row of its blossom.
func (s *solver) collect(r row, v int32) {
	s.steps += int64(s.n)
	if s.words == 1 {
		collectOne(r.key.cells, r.from, s.row(v), s.value.cells[v], v)
		return
	}
	s.collectWords(r.key, r.from, v)
}

// fold takes one row into another.
func (s *solver) fold(key column, from []int32, r row) {
	s.steps += int64(s.n)
	if s.words == 1 {
		foldOne(key.cells, from, r.key.cells, r.from)
		return
	}
	for x := range int32(s.n) {
		if a, b := r.key.at(x), key.at(x); less(a, b) {
			set(b, a)
			from[x] = r.from[x]
		}
	}
}

// findNearest finds the unlabelled vertex with the best edge to the tree.
func (s *solver) findNearest() {
	s.steps += int64(s.n)
	if s.words == 1 {
		s.nearest = nearestOne(s.key.cells, s.open.cells)
		return
	}
	s.nearest = s.nearestWords()
}

// bridgeFromVertex notes the best edge from a new S-vertex that is no blossom to the other S-vertices.
func (s *solver) bridgeFromVertex(v int32) {
	s.steps += int64(len(s.outer))
	if others := s.outer[:len(s.outer)-1]; len(others) > 0 { // The last is v itself.
		var to int32
		if s.words == 1 {
			to = bridgeOne(s.bridges.draft(), others, s.row(v), s.value.cells, s.value.cells[v])
		} else {
			to = s.bridgeWords(others, v)
		}
		s.bridges.add(v, to)
	}
}

// bridgeFromBlossom notes the best edge from a new S-blossom to the S-vertices outside.
func (s *solver) bridgeFromBlossom(b int32, r row) {
	s.steps += int64(len(s.outer))
	best, to, c := s.bridges.draft(), none, s.spare
	for _, x := range s.outer {
		if s.top[x] == b {
			continue
		}
		sum(c, r.key.at(x), s.value.at(x))
		if to == none || less(c, best) {
			set(best, c)
			to = x
		}
	}
	if to != none {
		s.bridges.add(r.from[to], to)
	}
}
