package bracket

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/bracket/matching"
)

// illegal is what a round may have to do against the absolute rules, the lightest first.
type illegal struct{ Sides, Bye, Rematch bool }

// swissLaw is the absolute rules once more, written from the histories alone, so that a round can be judged without
// the rules by which it was paired.
type swissLaw struct {
	entries []SwissEntry
	o       SwissOptions
	field   []int
}

func newSwissLaw(entries []SwissEntry, o SwissOptions) swissLaw {
	law := swissLaw{entries: entries, o: o}
	for e := range entries {
		if !entries[e].Absent {
			law.field = append(law.field, e)
		}
	}
	return law
}

func (l swissLaw) met(a, b int) bool { return slices.Contains(l.entries[a].Opponents, b) }

func (l swissLaw) top(e int) bool {
	return l.o.Round == l.o.Rounds && float64(l.entries[e].Points) > float64(l.o.Win)*float64(l.o.Round-1)/2
}

// tooOften says whether a side makes a difference of three or a third time running.
func (l swissLaw) tooOften(e int, side Side) bool {
	difference, running := 0, 0
	for _, s := range append(slices.Clone(l.entries[e].Sides), side) {
		if s == NoSide {
			continue
		}
		difference += int(s)
		if s == side {
			running++
		} else {
			running = 0
		}
	}
	return running > 2 || difference*int(side) > 2
}

// sidesFit says whether the two can have sides.
func (l swissLaw) sidesFit(a, b int) bool {
	return l.top(a) || l.top(b) || !l.tooOften(a, Left) && !l.tooOften(b, Right) || !l.tooOften(a, Right) && !l.tooOften(b, Left)
}

// allows says whether everybody can be paired if so much is let pass.
func (l swissLaw) allows(pass illegal) bool {
	n := len(l.field)
	may := func(v, w int) bool {
		if w == n {
			return pass.Bye || !l.entries[l.field[v]].HadBye
		}
		a, b := l.field[v], l.field[w]
		return (pass.Rematch || !l.met(a, b)) && (pass.Sides || l.sidesFit(a, b))
	}
	even := n + n%2
	if n <= 10 {
		return somePairing(make([]bool, even), may)
	}
	var edges []matching.Edge
	for v := range n {
		for w := v + 1; w < even; w++ {
			if may(v, w) {
				edges = append(edges, matching.Edge{U: v, V: w, Weight: 1})
			}
		}
	}
	return !slices.Contains(matching.MaxWeight(even, edges, true), -1)
}

// somePairing tries every pairing of those not yet paired.
func somePairing(paired []bool, may func(v, w int) bool) bool {
	v := slices.Index(paired, false)
	if v < 0 {
		return true
	}
	paired[v] = true
	defer func() { paired[v] = false }()
	for w := v + 1; w < len(paired); w++ {
		if paired[w] || !may(v, w) {
			continue
		}
		paired[w] = true
		found := somePairing(paired, may)
		paired[w] = false
		if found {
			return true
		}
	}
	return false
}

// needed is the least that has to be let pass: the sides before the second bye, that before the rematch.
func (l swissLaw) needed() illegal {
	for _, pass := range []illegal{{}, {Sides: true}, {Sides: true, Bye: true}} {
		if l.allows(pass) {
			return pass
		}
	}
	return illegal{true, true, true}
}

// judge says what a round does against the absolute rules, and fails where its reasons say anything else.
func (l swissLaw) judge(t *rapid.T, round SwissRound) illegal {
	var done illegal
	for _, p := range round.Pairs {
		a, b := l.entries[p.First], l.entries[p.Second]
		broken := l.tooOften(p.First, Left) || l.tooOften(p.Second, Right)
		free := l.top(p.First) || l.top(p.Second)
		facts := map[Reason]bool{
			SameScore: a.Points == b.Points, FloatsDown: a.Points != b.Points,
			RelaxedRemeet: l.met(p.First, p.Second),
			RelaxedSide:   broken && !free, TopScorers: broken && free,
			OneCar: a.Car >= 0 && a.Car == b.Car,
		}
		for why, fact := range facts {
			if slices.Contains(p.Reasons, why) != fact {
				t.Fatalf("%d against %d: the reasons are %v, but %s is %v\n%+v\n%+v", p.First, p.Second, p.Reasons, why, fact, a, b)
			}
		}
		ofSides := 0
		for _, why := range []Reason{SidesWished, SideOfOne, SideStronger, SideHistory, SideOfFirst, SideByNumber} {
			ofSides += int(one(slices.Contains(p.Reasons, why)))
		}
		if ofSides != 1 {
			t.Fatalf("%d against %d: %d reasons for the sides in %v", p.First, p.Second, ofSides, p.Reasons)
		}
		done.Sides = done.Sides || facts[RelaxedSide]
		done.Rematch = done.Rematch || facts[RelaxedRemeet]
	}
	if round.Bye >= 0 {
		done.Bye = l.entries[round.Bye].HadBye
		want := []Reason{ByeLowest}
		if done.Bye {
			want = append(want, RelaxedBye)
		}
		if diff := cmp.Diff(want, round.ByeReasons); diff != "" {
			t.Fatalf("reasons of the bye (-want +got):\n%s", diff)
		}
	}
	return done
}

// atMost says whether nothing is done that need not be.
func (i illegal) atMost(pass illegal) bool {
	return (pass.Sides || !i.Sides) && (pass.Bye || !i.Bye) && (pass.Rematch || !i.Rematch)
}

// Any field in any number of rounds, with entries that come late, leave, miss a round and forfeit: nothing wedges a
// Swiss; it keeps to the absolute rules while they leave a pairing, else it does no more against them than it must,
// and says so. Up to ten entries every pairing is tried; above, the law is asked for any pairing by a plain matching.
func TestSwissKeepsTheLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.OneOf(rapid.IntRange(2, 12), rapid.IntRange(13, 64), rapid.IntRange(65, 256)).Draw(t, "n")
		rounds := rapid.IntRange(1, 9).Draw(t, "rounds")
		luck := NewLot(rapid.Uint64Range(0, 1<<40).Draw(t, "luck"))
		quitters := rapid.SampledFrom([]int{1000, 12, 4}).Draw(t, "one in so many leaves after a round")
		sharers := rapid.SampledFrom([]int{1000, 8}).Draw(t, "one in so many shares car 0")
		enters, leaves, cars := make([]int, n), make([]int, n), make([]int, n)
		for e := range n {
			enters[e], leaves[e], cars[e] = 1, rounds, -1
			if e > 0 && luck.Intn(10) == 0 {
				enters[e] += luck.Intn(rounds)
			}
			for r := 1; e > 0 && r < leaves[e]; r++ {
				if luck.Intn(quitters) == 0 {
					leaves[e] = r
				}
			}
			if luck.Intn(sharers) == 0 {
				cars[e] = 0
			}
		}
		var played [][]SwissOutcome
		for r := 1; r <= rounds; r++ {
			entries, err := SwissHistory(n, played)
			if err != nil {
				t.Fatal(err)
			}
			for e := range entries {
				entries[e].Absent = r < enters[e] || r > leaves[e] || e > 0 && luck.Intn(30) == 0
				entries[e].Car = cars[e]
			}
			o := SwissOptions{Round: r, Rounds: rounds, Win: 2, LotSeed: uint64(n)}
			round, err := NextSwissRound(entries, o)
			if err != nil {
				t.Fatalf("round %d: %v", r, err)
			}
			checkSwissRound(t, entries, round)
			law := newSwissLaw(entries, o)
			needed := law.needed()
			if done := law.judge(t, round); !done.atMost(needed) {
				t.Fatalf("round %d of %d entries does %+v against the rules, although %+v will do", r, n, done, needed)
			}
			played = append(played, outcomes(round, luck))
		}
	})
}

// Histories that no Swiss would leave behind are paired as well as they can be: against every pairing.
func TestSwissPairsAfterAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		before := rapid.IntRange(0, 6).Draw(t, "rounds before")
		met := rapid.IntRange(1, 10).Draw(t, "tenths of pairs that ran")
		byes := rapid.IntRange(0, 10).Draw(t, "tenths that had a bye")
		luck := NewLot(rapid.Uint64Range(0, 1<<40).Draw(t, "luck"))
		entries := anyHistory(n, before, met, byes, luck)
		o := SwissOptions{Round: before + 1, Rounds: before + 1 + luck.Intn(2), Win: 1, LotSeed: 5}
		round, err := NextSwissRound(entries, o)
		if err != nil {
			t.Fatal(err)
		}
		checkSwissRound(t, entries, round)
		law := newSwissLaw(entries, o)
		if done, needed := law.judge(t, round), law.needed(); !done.atMost(needed) {
			t.Fatalf("the round does %+v against the rules, although %+v will do", done, needed)
		}
		s := newSwiss(entries, o)
		got, err := s.solve()
		if err != nil {
			t.Fatal(err)
		}
		if _, want := s.everyPairing(); !slices.Equal(want, got) {
			t.Fatalf("pairing %v, want %v", got, want)
		}
	})
}

// anyHistory makes up rounds that were paired blindly, each pair run in so many tenths of cases, with points, byes and
// floats that do not follow from them. Whoever did not run at first may have come late.
func anyHistory(n, rounds, met, byes int, luck *Lot) []SwissEntry {
	entries := newcomers(n)
	for range rounds {
		order := luck.Perm(n)
		for e := range entries {
			x := &entries[e]
			x.Opponents, x.Sides, x.Floats = append(x.Opponents, -1), append(x.Sides, NoSide), append(x.Floats, Float(luck.Intn(3)-1))
		}
		for i := 1; i < n; i += 2 {
			if luck.Intn(10) >= met {
				continue
			}
			last := len(entries[0].Opponents) - 1
			a, b := order[i-1], order[i]
			entries[a].Opponents[last], entries[b].Opponents[last] = b, a
			entries[a].Sides[last], entries[b].Sides[last] = Left, Right
		}
	}
	for e := range entries {
		x := &entries[e]
		x.Points = int64(luck.Intn(7))
		x.HadBye = luck.Intn(10) < byes
		for len(x.Opponents) > 0 && x.Opponents[0] < 0 && luck.Intn(2) == 0 {
			x.Opponents, x.Sides, x.Floats = x.Opponents[1:], x.Sides[1:], x.Floats[1:]
		}
	}
	return entries
}
