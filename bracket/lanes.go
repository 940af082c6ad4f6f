package bracket

// levelLanes exchanges entries within their heats until every entry has had all lanes as equally often as the heats
// allow: no exchange anywhere, and no chain of them, lessens the sum of the squares of how often each had each lane.
// Heats are in lane order without empty lanes; they are changed in place, and not at all where they are level.
//
// Heats, entries and lanes are a bipartite graph whose edges are to be coloured. Where all heats are equally large an
// entry has no lane more than once oftener than another; so where it runs as often as there are lanes, it has each
// once (König 1916: a regular bipartite graph has such a colouring). It is found two lanes at a time: the heats
// that join an entry on one lane to one on the other form paths and circles, along which the two lanes are exchanged
// (Kempe's chains). Where heats differ by one entry, the last lane exists in the larger ones only. Who stands there is
// chosen first, such that what is left for the others can be level; then those are.
//
// It takes about lanes^2 times the number of entries times that of heats at worst, and mostly far less.
func levelLanes(heats [][]int) {
	if len(heats) == 0 {
		return
	}
	smallest, largest := len(heats[0]), len(heats[0])
	for _, h := range heats {
		smallest, largest = min(smallest, len(h)), max(largest, len(h))
	}
	l := newLanePlan(heats)
	level := largest
	if smallest == largest-1 {
		level = smallest
		l.levelLast(largest - 1)
	}
	for improved := true; improved; {
		improved = false
		for a := range level {
			for b := a + 1; b < level; b++ {
				improved = l.levelPair(a, b) || improved
			}
		}
	}
}

// lanePlan is a set of heats whose lanes are being shared out. Entries are known by their places from 0.
type lanePlan struct {
	heats [][]int // in lane order
	at    []int   // the place of each entry, by its number
	ran   [][]int // the heats of each entry
	had   [][]int // how often each entry had each lane
}

func newLanePlan(heats [][]int) *lanePlan {
	l := &lanePlan{heats: heats}
	most, lanes := 0, 0
	for _, h := range heats {
		lanes = max(lanes, len(h))
		for _, e := range h {
			most = max(most, e)
		}
	}
	l.at = make([]int, most+1)
	for i := range l.at {
		l.at[i] = -1
	}
	for i, h := range heats {
		for lane, e := range h {
			if l.at[e] < 0 {
				l.at[e] = len(l.ran)
				l.ran, l.had = append(l.ran, nil), append(l.had, make([]int, lanes))
			}
			l.ran[l.at[e]] = append(l.ran[l.at[e]], i)
			l.had[l.at[e]][lane]++
		}
	}
	return l
}

// swap exchanges two lanes of a heat.
func (l *lanePlan) swap(heat, a, b int) {
	h := l.heats[heat]
	for _, move := range [2][2]int{{a, b}, {b, a}} {
		had := l.had[l.at[h[move[0]]]]
		had[move[0]]--
		had[move[1]]++
	}
	h[a], h[b] = h[b], h[a]
}

// lane returns the lane of an entry in a heat.
func (l *lanePlan) lane(heat, entry int) int {
	for lane, e := range l.heats[heat] {
		if l.at[e] == entry {
			return lane
		}
	}
	panic("bracket: an entry is not in its own heat")
}

// levelPair exchanges two lanes along chains of heats while that makes them more level, and says whether it did.
func (l *lanePlan) levelPair(a, b int) bool {
	surplus := func(e int) int { return l.had[e][a] - l.had[e][b] }
	next := func(e, heat int) []int { // whoever has lane b where e has lane a
		if h := l.heats[heat]; b < len(h) && l.at[h[a]] == e {
			return []int{l.at[h[b]]}
		}
		return nil
	}
	improved := false
	for e := range l.ran {
		// Each chain takes two off the surplus of its first entry and gives them to that of its last.
		for surplus(e) > 0 {
			chain := l.chain(e, next, func(f int) int { return surplus(e) - surplus(f) - 2 })
			if chain == nil {
				break
			}
			for _, hop := range chain {
				l.swap(hop.heat, a, b)
			}
			improved = true
		}
	}
	return improved
}

// levelLast shares out a last lane that only some heats have: what an entry has of it, and what is then left to be
// spread over the other lanes, is to be as level as can be.
func (l *lanePlan) levelLast(lane int) {
	cost := func(e, times int) int {
		left := len(l.ran[e]) - times
		each, more := left/lane, left%lane
		return times*times + more*(each+1)*(each+1) + (lane-more)*each*each
	}
	next := func(e, heat int) []int { // all others of a heat in which e has the lane
		h := l.heats[heat]
		if lane >= len(h) || l.at[h[lane]] != e {
			return nil
		}
		var others []int
		for _, other := range h[:lane] {
			others = append(others, l.at[other])
		}
		return others
	}
	for improved := true; improved; {
		improved = false
		for e := range l.ran {
			for l.had[e][lane] > 0 {
				saved := cost(e, l.had[e][lane]) - cost(e, l.had[e][lane]-1)
				chain := l.chain(e, next, func(f int) int {
					return saved - (cost(f, l.had[f][lane]+1) - cost(f, l.had[f][lane]))
				})
				if chain == nil {
					break
				}
				for _, hop := range chain {
					l.swap(hop.heat, lane, l.lane(hop.heat, hop.to))
				}
				improved = true
			}
		}
	}
}

// laneHop is one heat of a chain: what the entry before it gives up there goes to another.
type laneHop struct{ heat, to int }

// chain finds the shortest chain from an entry to one for which the gain is greatest and above 0; nil if there is none.
func (l *lanePlan) chain(from int, next func(e, heat int) []int, gain func(e int) int) []laneHop {
	cameBy := make([]laneHop, len(l.ran))
	before := make([]int, len(l.ran))
	for e := range before {
		before[e] = -1
	}
	before[from] = from
	best, most := -1, 0
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		e := queue[0]
		// Found in breadth, the first of the greatest gain has the shortest chain.
		if g := gain(e); e != from && g > most {
			best, most = e, g
		}
		for _, heat := range l.ran[e] {
			for _, other := range next(e, heat) {
				if before[other] < 0 {
					before[other], cameBy[other] = e, laneHop{heat, other}
					queue = append(queue, other)
				}
			}
		}
	}
	if best < 0 {
		return nil
	}
	var chain []laneHop
	for e := best; e != from; e = before[e] {
		chain = append(chain, cameBy[e])
	}
	return chain
}
