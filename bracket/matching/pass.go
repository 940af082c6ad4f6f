package matching

// The passes over a row are the inner loops of the search, n steps each. Each has a form for plain weights and one
// for weights of several words.

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
