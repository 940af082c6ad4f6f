package matching

// collectWords lowers key to value - weight where that is less. Mostly the first word tells.
func (s *solver) collectWords(key column, from []int32, v int32) {
	words := s.words
	value, weights, cells := s.value.at(v), s.row(v), key.cells
	for x := range from {
		start := x * words
		k, w := cells[start:start+words], weights[start:start+words]
		for i, now := range k {
			d := value[i] - w[i]
			if d > now {
				break
			}
			if d < now {
				difference(k, value, w)
				from[x] = v
				break
			}
		}
	}
}

// nearestWords returns the vertex with the least key + open, or none if no vertex is open.
func (s *solver) nearestWords() int32 {
	words := s.words
	nearest, least := none, s.spare
	clear(least)
	least[0] = never
	for x := range s.from {
		start := x * words
		k, o := s.key.cells[start:start+words], s.open.cells[start:start+words]
		for i, now := range least {
			c := k[i] + o[i]
			if c > now {
				break
			}
			if c < now {
				sum(least, k, o)
				nearest = int32(x)
				break
			}
		}
	}
	return nearest
}

func (s *solver) bridgeWords(among []int32, v int32) int32 {
	value, best, to, c := s.value.at(v), s.bridges.draft(), none, s.spare
	for _, x := range among {
		sum(c, value, s.value.at(x))
		difference(c, c, s.weightOf(v, x))
		if to == none || less(c, best) {
			set(best, c)
			to = x
		}
	}
	return to
}
