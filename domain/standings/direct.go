package standings

import "slices"

// mini is the table of the games among some entries.
type mini struct {
	points, difference, scored map[int]Fraction
	met                        map[[2]int]int // games of each pair, the lower index first
}

// among makes the table of the level entries from the games that count.
func (t *table) among(level []int, counts func(game) bool) mini {
	m := mini{map[int]Fraction{}, map[int]Fraction{}, map[int]Fraction{}, map[[2]int]int{}}
	for _, e := range level {
		for _, g := range t.games[e] {
			if g.opponent == noOpponent || !slices.Contains(level, g.opponent) || !counts(g) {
				continue
			}
			m.points[e] = m.points[e].Add(g.points)
			m.difference[e] = m.difference[e].Add(g.score).Sub(g.against)
			m.scored[e] = m.scored[e].Add(g.score)
			if e < g.opponent {
				m.met[[2]int{e, g.opponent}]++
			}
		}
	}
	return m
}

// direct parts the level entries by direct encounter. Forfeits count in round robins only.
func (t *table) direct(level []int, set func(int, Fraction)) [][]int {
	m := t.among(level, func(g game) bool { return g.played || t.rules.Unplayed == AsPlayed })
	most := 0
	for _, games := range m.met {
		most = max(most, games)
	}
	if most == 0 {
		return [][]int{level}
	}
	for _, e := range level {
		set(e, m.points[e])
	}
	// missing is the most that an entry could still have won from the others.
	missing := func(e int) Fraction {
		games := 0
		for _, other := range level {
			if other != e {
				games += most - m.met[[2]int{min(e, other), max(e, other)}]
			}
		}
		return t.rules.Scoring.Win.Mul(Whole(int64(games)))
	}
	all := true
	for _, e := range level {
		all = all && missing(e).Sign() == 0
	}
	if all {
		return by(Direct, func(a, b int) int { return m.points[b].Cmp(m.points[a]) }).part(level)
	}
	// Whoever stays ahead of all others, whatever the missing games give, is put first; then the next.
	var parts [][]int
	rest := slices.Clone(level)
	for {
		first := slices.IndexFunc(rest, func(e int) bool {
			return !slices.ContainsFunc(rest, func(other int) bool {
				return other != e && m.points[other].Add(missing(other)).Cmp(m.points[e]) >= 0
			})
		})
		if first < 0 || len(rest) == 1 {
			return append(parts, rest)
		}
		parts = append(parts, []int{rest[first]})
		rest = slices.Delete(rest, first, first+1)
	}
}

// headToHead parts the level entries by the table among them, made again for those whom it leaves level. Every
// game counts, forfeits too.
func (t *table) headToHead(level []int, set func(int, Fraction)) [][]int {
	m := t.among(level, func(game) bool { return true })
	for _, e := range level {
		set(e, m.points[e])
	}
	parts := by(HeadToHead, func(a, b int) int {
		for _, column := range []map[int]Fraction{m.points, m.difference, m.scored} {
			if c := column[b].Cmp(column[a]); c != 0 {
				return c
			}
		}
		return 0
	}).part(level)
	if len(parts) == 1 {
		return parts
	}
	var again [][]int
	for _, part := range parts {
		if len(part) == 1 {
			again = append(again, part)
			continue
		}
		again = append(again, t.headToHead(part, func(int, Fraction) {})...)
	}
	return again
}
