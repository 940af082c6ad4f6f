package matching

// contract makes one S-blossom of the circle that the tight edge v-x closes between two S-blossoms.
func (s *solver) contract(v, x int32) {
	bv, bx := s.top[v], s.top[x]
	ancestor := s.ancestor(bv, bx)
	b := s.free[len(s.free)-1]
	s.free = s.free[:len(s.free)-1]

	// The circle runs from the ancestor down to v, over the edge to x, and back up.
	for c := bv; c != ancestor; {
		base := s.base[c]
		t := s.top[s.mate[base]]
		up := s.top[s.entryS[t]]
		s.link(t, c, s.mate[base], base)
		s.link(up, t, s.entryS[t], s.entryT[t])
		c = up
	}
	s.link(bv, bx, v, x)
	for c := bx; c != ancestor; {
		base := s.base[c]
		t := s.top[s.mate[base]]
		up := s.top[s.entryS[t]]
		s.link(c, t, base, s.mate[base])
		s.link(t, up, s.entryT[t], s.entryS[t])
		c = up
	}

	s.child[b], s.base[b], s.parent[b] = ancestor, s.base[ancestor], none
	s.first[b], s.last[b] = s.first[ancestor], s.last[ancestor]
	s.label[b] = labelS
	clear(s.z.at(b))
	set(s.since.at(b), s.now)
	r := s.rows.take(b)
	for c := ancestor; ; {
		s.absorb(c, r)
		s.parent[c] = b
		if c != ancestor {
			s.chain[s.last[b]] = s.first[c]
			s.last[b] = s.last[c]
		}
		if c = s.next[c]; c == ancestor {
			break
		}
	}
	for y := s.first[b]; ; y = s.chain[y] {
		s.top[y] = b
		if y == s.last[b] {
			break
		}
	}
	s.fold(s.key, s.from, r)
	s.findNearest()
	s.bridgeFromBlossom(b, r)
}

// absorb takes a child into the row of a new blossom. The vertices of a T-blossom become S-vertices.
func (s *solver) absorb(c int32, r row) {
	inner := s.label[c] == labelT
	if int(c) >= s.n {
		s.settleBlossom(c)
		if !inner {
			s.fold(r.key, r.from, s.rows.row(c))
			s.rows.release(c)
			return
		}
	}
	for y := s.first[c]; ; y = s.chain[y] {
		if inner {
			sum(s.value.at(y), s.value.at(y), s.now)
			s.outward(y)
		}
		s.collect(r, y)
		if y == s.last[c] {
			break
		}
	}
}

func (s *solver) link(c, d, out, in int32) {
	s.next[c], s.prev[d] = d, c
	s.outEnd[c], s.inEnd[c] = out, in
}

// ancestor finds where the ways from two S-blossoms to the root meet, going up both in turn.
func (s *solver) ancestor(a, b int32) int32 {
	s.stamp++
	for {
		if a != none {
			if s.mark[a] == s.stamp {
				return a
			}
			s.mark[a] = s.stamp
			s.steps++
			if partner := s.mate[s.base[a]]; partner == none {
				a = none
			} else {
				a = s.top[s.entryS[s.top[partner]]]
			}
		}
		a, b = b, a
	}
}

// expand takes a T-blossom apart whose dual is zero. The children on the even way from where it was entered to its
// base keep their place in the tree, T and S in turn; the others lose their label.
func (s *solver) expand(b int32) {
	// Its vertices leave the tree: their duals, value + now in a T-blossom, are settled, and they
	// can be reached again. Those that stay are taken in anew below.
	for y := s.first[b]; ; y = s.chain[y] {
		u := s.value.at(y)
		sum(u, u, s.now)
		set(s.open.at(y), u)
		if y == s.last[b] {
			break
		}
	}
	v, x := s.entryS[b], s.entryT[b]
	base := s.child[b]
	s.takeApartOnce(b)
	c := s.top[x]
	forward := s.evenForward(c, base)
	// The edge by which the blossom was entered now leads to the child that holds its end.
	s.growT(c, v, x)
	for c != base {
		var outer, inner, out, in int32
		// Two steps at a time: to the next child, which becomes S, and by the edge out-in from it to the
		// one behind, which becomes T.
		if forward {
			outer = s.next[c]
			inner = s.next[outer]
			out, in = s.outEnd[outer], s.inEnd[outer]
		} else {
			outer = s.prev[c]
			inner = s.prev[outer]
			out, in = s.inEnd[inner], s.outEnd[inner]
		}
		s.growT(inner, out, in)
		s.growS(outer)
		c = inner
	}
	s.findNearest()
}

// takeApartOnce makes the children of a top-level blossom top-level blossoms without a label.
func (s *solver) takeApartOnce(b int32) {
	start := s.child[b]
	for c := start; ; {
		s.parent[c] = none
		s.label[c] = unlabelled
		for y := s.first[c]; ; y = s.chain[y] {
			s.top[y] = c
			if y == s.last[c] {
				break
			}
		}
		if c = s.next[c]; c == start {
			break
		}
	}
	s.base[b] = none
	s.label[b] = unlabelled
	s.free = append(s.free, b)
}

// takeApart does so with all in it whose dual is zero, too.
func (s *solver) takeApart(b int32) {
	start := s.child[b]
	s.takeApartOnce(b)
	for c := start; ; {
		if int(c) >= s.n && isZero(s.z.at(c)) {
			s.takeApart(c)
		}
		if c = s.next[c]; c == start {
			return
		}
	}
}

// evenForward says whether the way from a child to the base child with an even number of edges is the one forward.
func (s *solver) evenForward(c, base int32) bool {
	even := true
	for ; c != base; c = s.next[c] {
		even = !even
	}
	return even
}

// augment changes unmatched and matched edges along the path from the S-vertex v to the root. The new partner of v
// is x, or none if v is to be left free.
func (s *solver) augment(v, x int32) {
	if x != none {
		s.rotate(s.top[x], x)
		s.mate[x] = v
	}
	for {
		b := s.top[v]
		partner := s.mate[s.base[b]]
		s.rotate(b, v)
		s.mate[v] = x
		s.steps++
		if partner == none {
			return
		}
		t := s.top[partner]
		v, x = s.entryS[t], s.entryT[t]
		s.rotate(t, x)
		s.mate[x] = v
	}
}

// rotate makes a vertex the base of its blossom: the edges on the even way from it to the old base change over.
func (s *solver) rotate(b, v int32) {
	if int(b) < s.n {
		return
	}
	c := v
	for s.parent[c] != b {
		c = s.parent[c]
	}
	s.rotate(c, v)
	base := s.child[b]
	forward := s.evenForward(c, base)
	for d := c; d != base; {
		var e, f int32
		if forward {
			e = s.next[d]
			f = s.next[e]
			s.pair(e, f, s.outEnd[e], s.inEnd[e])
		} else {
			e = s.prev[d]
			f = s.prev[e]
			s.pair(e, f, s.inEnd[f], s.outEnd[f])
		}
		d = f
		s.steps++
	}
	s.child[b], s.base[b] = c, v
}

// pair matches two children of a blossom by the edge x-y.
func (s *solver) pair(e, f, x, y int32) {
	s.rotate(e, x)
	s.rotate(f, y)
	s.mate[x], s.mate[y] = y, x
}
