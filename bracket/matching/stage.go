package matching

// stage grows a tree of tight edges from a free vertex until a free vertex is reached, or an S-vertex whose dual
// comes down to zero and may be left free in place of the root. It reports false if a value grew too large.
func (s *solver) stage(root int32) bool {
	s.begin()
	s.growS(s.top[root])
	for done := false; !done; {
		kind, at := s.nextEvent()
		set(s.now, s.event)
		if s.tooFar(s.now) {
			return false
		}
		switch kind {
		case reaches:
			done = s.grow(at)
		case vanishes:
			s.augment(at, none)
			done = true
		case closes:
			e := s.bridges.edges[at]
			s.contract(e.v, e.x)
			s.bridges.drop(s.top)
			s.steps += int64(len(s.bridges.edges))
		case opens:
			s.expand(s.inner[at])
		}
	}
	return s.settle()
}

// begin forgets the tree before. Labels and open were put right when that tree was settled.
func (s *solver) begin() {
	s.stages++
	clear(s.now)
	s.key.fill(beyond)
	s.outer, s.inner = s.outer[:0], s.inner[:0]
	s.nearest, s.lowest = none, none
	s.bridges.reset()
	s.rows.releaseAll()
	s.steps += int64(s.n)
}

// happening is what the next delta leads to; Galil numbers the four delta 2, 1, 3 and 4.
type happening int

const (
	reaches  happening = iota // an edge to an unlabelled vertex is tight
	vanishes                  // the dual of an S-vertex is zero
	closes                    // an edge between two S-blossoms is tight
	opens                     // the dual of a T-blossom is zero
)

// nextEvent finds what comes first and leaves its time in event. Of events at one time a dual of zero goes first,
// which ends the stage, and then the order of the list above. There always is an event: the dual of the root comes
// down to zero at last.
func (s *solver) nextEvent() (kind happening, at int32) {
	kind, at = vanishes, s.lowest
	set(s.event, s.value.at(s.lowest))
	if x := s.nearest; x != none {
		sum(s.spare, s.key.at(x), s.open.at(x))
		if less(s.spare, s.event) {
			kind, at = reaches, x
			set(s.event, s.spare)
		}
	}
	if i := int32(s.bridges.tightest); i >= 0 {
		clear(s.spare)
		halfway(s.spare, s.spare, s.bridges.gap.at(i))
		if less(s.spare, s.event) {
			kind, at = closes, i
			set(s.event, s.spare)
		}
	}
	for i := 0; i < len(s.inner); i++ {
		b := s.inner[i]
		if s.parent[b] != none || s.base[b] == none || s.label[b] != labelT { // It was expanded or contracted.
			s.inner[i] = s.inner[len(s.inner)-1]
			s.inner = s.inner[:len(s.inner)-1]
			i--
			continue
		}
		halfway(s.spare, s.since.at(b), s.z.at(b))
		if less(s.spare, s.event) {
			kind, at = opens, int32(i)
			set(s.event, s.spare)
		}
	}
	s.steps += int64(len(s.inner))
	return kind, at
}

// grow takes the tight edge to an unlabelled vertex. If its blossom is free the path is augmented and the stage is
// over; else the blossom becomes a T-blossom and its partner an S-blossom.
func (s *solver) grow(x int32) (augmented bool) {
	b := s.top[x]
	partner := s.mate[s.base[b]]
	if partner == none {
		s.augment(s.from[x], x)
		return true
	}
	s.growT(b, s.from[x], x)
	s.growS(s.top[partner])
	return false
}

// growT labels an unlabelled blossom T, reached by the edge v-x.
func (s *solver) growT(b, v, x int32) {
	s.label[b] = labelT
	s.entryS[b], s.entryT[b] = v, x
	for y := s.first[b]; ; y = s.chain[y] {
		difference(s.value.at(y), s.value.at(y), s.now)
		s.close(y)
		if y == s.last[b] {
			break
		}
	}
	if int(b) >= s.n {
		set(s.since.at(b), s.now)
		s.inner = append(s.inner, b)
	}
}

// growS labels an unlabelled blossom S and looks at all edges from it.
func (s *solver) growS(b int32) {
	s.label[b] = labelS
	for y := s.first[b]; ; y = s.chain[y] {
		s.outward(y)
		if y == s.last[b] {
			break
		}
	}
	if int(b) < s.n {
		s.look(b)
		s.bridgeFromVertex(b)
		return
	}
	set(s.since.at(b), s.now)
	r := s.rows.take(b)
	for y := s.first[b]; ; y = s.chain[y] {
		s.collect(r, y)
		if y == s.last[b] {
			break
		}
	}
	s.fold(s.key, s.from, r)
	s.findNearest()
	s.bridgeFromBlossom(b, r)
}

// outward makes an unlabelled vertex an S-vertex.
func (s *solver) outward(y int32) {
	sum(s.value.at(y), s.value.at(y), s.now)
	s.close(y)
	s.outer = append(s.outer, y)
	if s.lowest == none || less(s.value.at(y), s.value.at(s.lowest)) {
		s.lowest = y
	}
}

// close keeps a vertex from being found as the nearest unlabelled one.
func (s *solver) close(y int32) {
	open := s.open.at(y)
	clear(open)
	open[0] = beyond
}

// settle turns the offsets back into duals, takes the labels away and takes apart the S-blossoms whose dual stayed
// zero. It reports false if a dual grew too large.
func (s *solver) settle() bool {
	ok := true
	// The labels are still needed for this: they say which way a dual moved with now.
	for v := range int32(s.n) {
		u := s.value.at(v)
		switch s.label[s.top[v]] {
		case labelS:
			difference(u, u, s.now)
		case labelT:
			sum(u, u, s.now)
		}
		set(s.open.at(v), u)
		ok = ok && !s.tooFar(u)
	}
	for b := int32(s.n); int(b) < len(s.parent); b++ {
		if s.base[b] == none {
			continue
		}
		// Only the dual of a top-level blossom moves in a stage.
		if s.parent[b] == none {
			s.settleBlossom(b)
		}
		ok = ok && !s.tooFar(s.z.at(b))
	}
	for b := int32(s.n); int(b) < len(s.parent); b++ {
		if s.base[b] != none && s.parent[b] == none && s.label[b] == labelS && isZero(s.z.at(b)) {
			s.takeApart(b)
		}
	}
	clear(s.label)
	s.steps += int64(s.n + len(s.parent))
	return ok
}

// settleBlossom brings the dual of a labelled blossom up to now.
func (s *solver) settleBlossom(b int32) {
	if s.label[b] == unlabelled {
		return
	}
	z, since := s.z.at(b), s.since.at(b)
	for k := range z {
		moved := 2 * (s.now[k] - since[k])
		if s.label[b] == labelT {
			moved = -moved
		}
		z[k] += moved
	}
}
