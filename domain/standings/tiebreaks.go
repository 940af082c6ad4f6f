package standings

import (
	"cmp"
	"slices"
)

// The tie-breaks of competitions for points. In all of them more is better.
const (
	// Buchholz is the sum of the opponents' points; Cut1 and Cut2 leave out the least one or two, MedianBuchholz the
	// least and the most (FIDE C.07).
	Buchholz       = "buchholz"
	BuchholzCut1   = "buchholz-cut-1"
	BuchholzCut2   = "buchholz-cut-2"
	MedianBuchholz = "median"
	// SonnebornBerger is the sum of the opponents' points, each times the part of a win taken from him.
	SonnebornBerger = "sonneborn-berger"
	// Direct is the points from the games played among those who are level, if all of them met; if not,
	// only who would be first whatever the missing games gave is put first, and so on (FIDE C.07).
	Direct = "direct"
	// HeadToHead is the table of the games among those who are level: points, then difference, then what
	// was scored; where that parts some of them only, a table of those still level is made again.
	HeadToHead = "head-to-head"
	// Koya is the points taken from opponents who have at least half of what can be had.
	Koya = "koya"
	// Progressive is the sum of the running totals after each round; ProgressiveCut1 leaves the first out.
	Progressive     = "progressive"
	ProgressiveCut1 = "progressive-cut-1"
	// AverageRating is the mean rating of the opponents played, rounded to a whole number, halves up.
	AverageRating = "average-rating"
	// Wins counts the games won at the bench, and first places.
	Wins = "wins"
	// Countback compares the number of first places in heats of many, then of second places, and so on.
	Countback = "countback"
	// Difference is what was scored less what was scored against; Scored is the former.
	Difference = "difference"
	Scored     = "scored"
)

// PointsTieBreaks lists the tie-breaks for points.
func PointsTieBreaks() []string {
	return []string{
		Buchholz, BuchholzCut1, BuchholzCut2, MedianBuchholz, SonnebornBerger, Direct, HeadToHead, Koya, Progressive,
		ProgressiveCut1, AverageRating, Wins, Countback, Difference, Scored,
	}
}

// tieBreak makes the criterion of a tie-break and puts its value for every entry into values. Those that depend on
// who is level get their value when they are asked.
func (t *table) tieBreak(name string, values [][]Value) criterion {
	at := 0
	if len(values) > 0 {
		at = len(values[0])
	}
	for e := range values {
		values[e] = append(values[e], Value{Name: name, None: true})
	}
	set := func(e int, v Fraction) { values[e][at] = Value{Name: name, Value: v} }
	switch name {
	case Direct:
		return criterion{name, func(level []int) [][]int { return t.direct(level, set) }}
	case HeadToHead:
		return criterion{name, func(level []int) [][]int { return t.headToHead(level, set) }}
	case Countback:
		for e := range values {
			set(e, Whole(int64(t.places(e, 1))))
		}
		return by(name, t.countback)
	}
	figures := make([]Fraction, len(values))
	for e := range figures {
		v, known := t.figure(name, e)
		if known {
			figures[e] = v
			set(e, v)
		}
	}
	return by(name, func(a, b int) int { return figures[b].Cmp(figures[a]) })
}

func (t *table) figure(name string, e int) (v Fraction, known bool) {
	switch name {
	case Buchholz:
		return t.buchholz(e, 0, 0), true
	case BuchholzCut1:
		return t.buchholz(e, 1, 0), true
	case BuchholzCut2:
		return t.buchholz(e, 2, 0), true
	case MedianBuchholz:
		return t.buchholz(e, 1, 1), true
	case SonnebornBerger:
		for _, c := range t.contributions(e) {
			v = v.Add(c.score.Mul(c.part))
		}
		return v, true
	case Koya:
		return t.koya(e), true
	case Progressive:
		return t.progressive(e, 0), true
	case ProgressiveCut1:
		return t.progressive(e, 1), true
	case AverageRating:
		return t.averageRating(e)
	case Wins:
		return t.wins(e), true
	case Difference:
		for _, g := range t.games[e] {
			v = v.Add(g.score).Sub(g.against)
		}
		return v, true
	default: // Scored
		for _, g := range t.games[e] {
			v = v.Add(g.score)
		}
		return v, true
	}
}

// contribution is what one round adds to Buchholz, and the part of a win that weights it.
type contribution struct {
	score, part Fraction
	byChoice    bool // the round was left unplayed by choice
}

// choice is 1 for a round left unplayed by choice.
func (c contribution) choice() int {
	if c.byChoice {
		return 1
	}
	return 0
}

func (t *table) contributions(e int) []contribution {
	var all []contribution
	add := func(g game, score Fraction) {
		part := g.points.Div(t.rules.Scoring.Win)
		all = append(all, contribution{score, part, t.unplayedByChoice(g)})
	}
	if t.rules.Unplayed == AsPlayed {
		for _, g := range t.games[e] {
			if g.opponent != noOpponent {
				add(g, t.points[g.opponent])
			}
		}
		return all
	}
	var before Fraction
	for _, g := range t.byRound(e) {
		switch {
		case g.many:
		case g.played:
			add(g, t.adjusted(g.opponent))
		case t.rules.Unplayed == Unplayed2023:
			add(g, t.points[e])
		default:
			dummy := before.Add(t.rules.Scoring.Win).Sub(g.points)
			add(g, dummy.Add(t.rules.Scoring.Draw.Mul(Whole(int64(t.rounds-g.round)))))
		}
		before = before.Add(g.points)
	}
	return all
}

// adjusted is the points of an entry as they count for its opponents.
func (t *table) adjusted(e int) Fraction {
	sum := t.points[e]
	rounds := t.byRound(e)
	slices.Reverse(rounds)
	for _, g := range rounds {
		if t.rules.Unplayed == Unplayed2023 && !t.unplayedByChoice(g) {
			break
		}
		if !g.played {
			sum = sum.Sub(g.points).Add(t.rules.Scoring.Draw)
		}
	}
	return sum
}

// buchholz sums the contributions without the least and the most so many. Of equally great ones the first to go as the
// most is one that was played: a round left unplayed by choice is kept for the cut of the least, which takes it first. So
// the order of the rounds does not matter.
func (t *table) buchholz(e, least, most int) Fraction {
	all := t.contributions(e)
	slices.SortFunc(all, func(a, b contribution) int {
		if c := a.score.Cmp(b.score); c != 0 {
			return c
		}
		return b.choice() - a.choice()
	})
	for range min(most, len(all)) {
		all = all[:len(all)-1]
	}
	for range min(least, len(all)) {
		at := 0
		if t.rules.Unplayed == Unplayed2023 {
			at = max(0, slices.IndexFunc(all, func(c contribution) bool { return c.byChoice }))
		}
		all = slices.Delete(all, at, at+1)
	}
	var sum Fraction
	for _, c := range all {
		sum = sum.Add(c.score)
	}
	return sum
}

func (t *table) koya(e int) Fraction {
	var sum Fraction
	for _, g := range t.games[e] {
		if g.opponent == noOpponent || !g.played && t.rules.Unplayed != AsPlayed {
			continue
		}
		games := t.rounds
		if t.rules.Unplayed == AsPlayed {
			games = t.counted[g.opponent]
		}
		half := t.rules.Scoring.Win.Mul(Half(int64(games)))
		if t.points[g.opponent].Cmp(half) >= 0 {
			sum = sum.Add(g.points)
		}
	}
	return sum
}

func (t *table) progressive(e, leaveOut int) Fraction {
	inRound := make([]Fraction, t.rounds)
	for _, g := range t.games[e] {
		inRound[g.round-1] = inRound[g.round-1].Add(g.points)
	}
	var running, sum Fraction
	for r, points := range inRound {
		running = running.Add(points)
		if r >= leaveOut {
			sum = sum.Add(running)
		}
	}
	return sum
}

func (t *table) averageRating(e int) (mean Fraction, known bool) {
	var sum, n int64
	for _, g := range t.games[e] {
		if g.played && g.opponent != noOpponent {
			sum += t.entries[g.opponent].Rating
			n++
		}
	}
	if n == 0 {
		return Fraction{}, false
	}
	return Whole((2*sum + n) / (2 * n)), true
}

func (t *table) wins(e int) Fraction {
	n := t.places(e, 1)
	for _, g := range t.games[e] {
		if g.played && g.opponent != noOpponent && g.points.Cmp(g.theirs) > 0 {
			n++
		}
	}
	return Whole(int64(n))
}

// places counts how often an entry came to a place in heats of many.
func (t *table) places(e, place int) int {
	n := 0
	for _, g := range t.games[e] {
		if g.many && g.place == place {
			n++
		}
	}
	return n
}

func (t *table) countback(a, b int) int {
	lowest := 0
	for _, e := range []int{a, b} {
		for _, g := range t.games[e] {
			lowest = max(lowest, g.place)
		}
	}
	for place := 1; place <= lowest; place++ {
		if c := cmp.Compare(t.places(b, place), t.places(a, place)); c != 0 {
			return c
		}
	}
	return 0
}
