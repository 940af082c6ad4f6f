package standings

import (
	"cmp"
	"slices"
	"strings"
)

// Unplayed says how rounds that an entry did not play count in tie-breaks.
type Unplayed string

// The treatments of unplayed rounds.
const (
	// Unplayed2023 follows the FIDE tie-break regulations of 2023 (C.07, from memory, checked against a
	// published example): an entry's own unplayed round counts as played against a dummy with the entry's own
	// final points, with the result that it was given; in an opponent's score, rounds that he did not play by
	// choice (a requested bye, a forfeit, no pairing) count as draws when no round that he played or could
	// have played comes after them; the cuts take contributions from rounds unplayed by choice first.
	Unplayed2023 Unplayed = "2023"
	// UnplayedBefore2023 follows the older rule: the dummy starts the round with the entry's own points,
	// takes the result that complements the entry's, and draws every later round; all unplayed rounds of an
	// opponent count as draws; cuts take the least.
	UnplayedBefore2023 Unplayed = "before-2023"
	// AsPlayed is for round robins: a round without a game is nothing, a forfeit is the result that it was
	// given, and an entry may have several results in a round.
	AsPlayed Unplayed = "as-played"
)

// Scoring is what results are worth. The zero value is 1 for a win or a bye and 1/2 for a draw. Results carry their
// own points; the scoring tells what a full win and a draw would have been.
type Scoring struct {
	Win, Draw, Bye Fraction
	// ByPlace holds the points of place 1, 2, ... in heats of many; later places have none.
	ByPlace []Fraction
	// SharePlaces gives equals in a heat of many the mean of the points of the places that they take (1 2 2 4: the
	// mean of 2 and 3), so that a heat is always worth the same; without it each gets those of the place.
	SharePlaces bool
}

// ofPlace is what a place is worth where so many share it.
func (s Scoring) ofPlace(place, equals int) Fraction {
	if place < 1 {
		return Fraction{}
	}
	if !s.SharePlaces {
		equals = 1
	}
	var sum Fraction
	for i := place - 1; i < min(place-1+equals, len(s.ByPlace)); i++ {
		sum = sum.Add(s.ByPlace[i])
	}
	return sum.Over(int64(equals))
}

// Result is what two won from each other in a heat, or what a bye gave.
type Result struct {
	// Round counts from 1.
	Round int
	// A and B are entry ids; B is empty for a bye.
	A, B             string
	APoints, BPoints Fraction
	// AScore and BScore are what each scored in the heat (laps, distance), for the tie-breaks Difference
	// and Scored; they may both be 0.
	AScore, BScore Fraction
	// Played is false for a forfeit; a bye is never played.
	Played bool
}

// HeatResult is the outcome of a heat of many.
type HeatResult struct {
	Round int
	// Places holds the entries with their places from 1; equals share a place. Order does not matter.
	Places []Place
}

// Place is an entry's place in a heat; 0 is no place (it did not start, finish or count).
type Place struct {
	Entry string
	Place int
}

// PointsEntry is an entry of a competition for points.
type PointsEntry struct {
	ID     string
	Status Status
	// Rating is asked for by AverageRating; 0 is none.
	Rating int64
}

// PointsRules say how points are ranked.
type PointsRules struct {
	Scoring Scoring
	// Unplayed is Unplayed2023 when empty.
	Unplayed  Unplayed
	TieBreaks []string
	Statuses  StatusRules
	// Rounds is the number of rounds so far; 0 takes the highest of the results.
	Rounds int
}

// MaxRounds bounds the rounds of a competition for points.
const MaxRounds = 1000

// RankPoints ranks entries by the points of their results. It refuses results of entries that are not listed, an
// entry against itself or twice in one round (except AsPlayed), and rules and tie-breaks that it does not know.
func RankPoints(entries []PointsEntry, results []Result, heats []HeatResult, rules PointsRules) ([]Standing, error) {
	t, err := newTable(entries, results, heats, rules)
	if err != nil {
		return nil, err
	}
	class := func(e int) int { return rules.Statuses.statusClass(entries[e].Status) }
	criteria := []criterion{
		by("status", func(a, b int) int { return class(a) - class(b) }),
		by("points", func(a, b int) int { return t.points[b].Cmp(t.points[a]) }),
	}
	values := make([][]Value, len(entries))
	for _, name := range rules.TieBreaks {
		criteria = append(criteria, t.tieBreak(name, values))
	}
	sets, decidedBy := chain(len(entries), criteria)
	list := make([]Standing, len(entries))
	for i, e := range entries {
		list[i] = Standing{Entry: e.ID, Status: e.Status, Figure: t.points[i], Counted: t.counted[i], TieBreaks: values[i]}
	}
	return rows(list, sets, decidedBy, func(e int) bool { return class(e) >= 2 }), nil
}

// game is one round of one entry.
type game struct {
	round          int
	opponent       int // or noOpponent
	points, theirs Fraction
	score, against Fraction
	played, bye    bool
	place          int // in a heat of many
	many           bool
}

const noOpponent = -1

// table is a competition seen from each entry. Entries are known by index.
type table struct {
	entries []PointsEntry
	rules   PointsRules
	rounds  int
	games   [][]game // by entry, in order of round
	points  []Fraction
	counted []int
}

func newTable(entries []PointsEntry, results []Result, heats []HeatResult, rules PointsRules) (*table, error) {
	// First, as it also fills in what the rules leave out.
	if err := checkPointsRules(&rules); err != nil {
		return nil, err
	}
	t := &table{
		entries: entries, rules: rules, rounds: rules.Rounds,
		games: make([][]game, len(entries)), points: make([]Fraction, len(entries)), counted: make([]int, len(entries)),
	}
	index := map[string]int{}
	seen := map[string]bool{}
	for i, e := range entries {
		if err := checkID(e.ID, seen); err != nil {
			return nil, err
		}
		if err := checkStatus(e.ID, e.Status); err != nil {
			return nil, err
		}
		index[e.ID] = i
	}
	// All entries are known by now, so that a result can name any.
	for i, r := range results {
		if err := t.addResult(i, r, index); err != nil {
			return nil, err
		}
	}
	for i, h := range heats {
		if err := t.addHeat(i, h, index); err != nil {
			return nil, err
		}
	}
	return t, t.settle()
}

func checkPointsRules(rules *PointsRules) error {
	s := &rules.Scoring
	if s.Win.Sign() == 0 && s.Draw.Sign() == 0 && s.Bye.Sign() == 0 {
		s.Win, s.Draw, s.Bye = Whole(1), Half(1), Whole(1)
	}
	if rules.Unplayed == "" {
		rules.Unplayed = Unplayed2023
	}
	switch {
	case s.Win.Sign() <= 0:
		return refuse("a win must be worth more than 0 points")
	case s.Draw.Sign() < 0 || s.Draw.Cmp(s.Win) > 0:
		return refuse("a draw must be worth from 0 to the points of a win")
	case rules.Unplayed != Unplayed2023 && rules.Unplayed != UnplayedBefore2023 && rules.Unplayed != AsPlayed:
		return refuse("unplayed rounds count as %q, %q or %q, not %q", Unplayed2023, UnplayedBefore2023, AsPlayed, rules.Unplayed)
	case rules.Rounds < 0 || rules.Rounds > MaxRounds:
		return refuse("the rounds must be from 0 to %d, not %d", MaxRounds, rules.Rounds)
	}
	for _, name := range rules.TieBreaks {
		if !slices.Contains(PointsTieBreaks(), name) {
			return refuse("the tie-break %q is not known for points; known are %s", name, strings.Join(PointsTieBreaks(), ", "))
		}
	}
	return rules.Statuses.check()
}

func (t *table) addResult(i int, r Result, index map[string]int) error {
	a, known := index[r.A]
	if !known {
		return refuse("result %d is of entry %q, which is not listed", i+1, r.A)
	}
	if err := t.checkRound(r.A, r.Round); err != nil {
		return err
	}
	if r.B == "" {
		t.games[a] = append(t.games[a], game{round: r.Round, opponent: noOpponent, points: r.APoints, bye: true})
		return nil
	}
	b, known := index[r.B]
	if !known {
		return refuse("result %d is of entry %q, which is not listed", i+1, r.B)
	}
	if a == b {
		return refuse("result %d has entry %s against itself", i+1, r.A)
	}
	t.games[a] = append(t.games[a], game{
		round: r.Round, opponent: b, points: r.APoints, theirs: r.BPoints, score: r.AScore, against: r.BScore, played: r.Played,
	})
	t.games[b] = append(t.games[b], game{
		round: r.Round, opponent: a, points: r.BPoints, theirs: r.APoints, score: r.BScore, against: r.AScore, played: r.Played,
	})
	return nil
}

func (t *table) addHeat(i int, h HeatResult, index map[string]int) error {
	equals := map[int]int{}
	for _, p := range h.Places {
		equals[p.Place]++
	}
	for _, p := range h.Places {
		e, known := index[p.Entry]
		if !known {
			return refuse("heat %d of many is of entry %q, which is not listed", i+1, p.Entry)
		}
		if err := t.checkRound(p.Entry, h.Round); err != nil {
			return err
		}
		if p.Place < 0 || p.Place > len(h.Places) {
			return refuse("entry %s has place %d in a heat of %d", p.Entry, p.Place, len(h.Places))
		}
		g := game{round: h.Round, opponent: noOpponent, place: p.Place, many: true, played: p.Place > 0}
		g.points = t.rules.Scoring.ofPlace(p.Place, equals[p.Place])
		t.games[e] = append(t.games[e], g)
	}
	return nil
}

func (t *table) checkRound(id string, round int) error {
	if round < 1 || round > MaxRounds || t.rules.Rounds > 0 && round > t.rules.Rounds {
		return refuse("entry %s has a result in round %d; rounds count from 1 to the last", id, round)
	}
	return nil
}

// settle sums up, and refuses two results in one round.
func (t *table) settle() error {
	for e := range t.games {
		slices.SortStableFunc(t.games[e], func(a, b game) int {
			return cmp.Or(cmp.Compare(a.round, b.round), cmp.Compare(a.opponent, b.opponent))
		})
		for i, g := range t.games[e] {
			if i > 0 && g.round == t.games[e][i-1].round && t.rules.Unplayed != AsPlayed {
				return refuse("entry %s has two results in round %d", t.entries[e].ID, g.round)
			}
			t.points[e] = t.points[e].Add(g.points)
			t.rounds = max(t.rounds, g.round)
			if !g.bye {
				t.counted[e]++
			}
		}
	}
	if slices.Contains(t.rules.TieBreaks, AverageRating) {
		for _, e := range t.entries {
			if e.Rating <= 0 {
				return refuse("the tie-break %s needs a rating of entry %s", AverageRating, e.ID)
			}
		}
	}
	return nil
}

// byRound returns the games of an entry for rounds 1 to the last; a round without one is unplayed by choice. It is
// for competitions with at most one game in a round.
func (t *table) byRound(e int) []game {
	all := make([]game, t.rounds)
	for r := range all {
		all[r] = game{round: r + 1, opponent: noOpponent}
	}
	for _, g := range t.games[e] {
		all[g.round-1] = g
	}
	return all
}

// unplayedByChoice says whether a round was not played although it could have been: a requested bye (worth less
// than the bye that the pairing gives), a forfeit, or no pairing at all.
func (t *table) unplayedByChoice(g game) bool {
	switch {
	case g.played:
		return false
	case g.bye:
		return g.points.Cmp(t.rules.Scoring.Bye) < 0
	case g.opponent == noOpponent:
		return true
	}
	return g.points.Cmp(t.rules.Scoring.Win) < 0
}
