package bracket

import (
	"math/bits"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/bracket/matching"
)

// outcomes lets luck decide the heats of a round: 2, 1 or 0 points of 2, and now and then a forfeit.
func outcomes(r SwissRound, luck *Lot) []SwissOutcome {
	var all []SwissOutcome
	for _, p := range r.Pairs {
		won := int64(luck.Intn(3))
		all = append(all, SwissOutcome{First: p.First, Second: p.Second, FirstPoints: won, SecondPoints: 2 - won, Played: luck.Intn(20) > 0})
	}
	if r.Bye >= 0 {
		all = append(all, SwissOutcome{First: r.Bye, Second: -1, FirstPoints: 2})
	}
	return all
}

// history is SwissHistory with some entries absent by luck, never entry 0.
func history(t interface{ Fatal(...any) }, n int, rounds [][]SwissOutcome, luck *Lot) []SwissEntry {
	entries, err := SwissHistory(n, rounds)
	if err != nil {
		t.Fatal(err)
	}
	for e := range entries {
		entries[e].Absent = e > 0 && luck.Intn(10) == 0
	}
	return entries
}

// The matching finds what trying every pairing finds, by the same criteria, down to the lot, in any round, with entries
// that left and came late. That the criteria are the rule book's is not asked here but in
// TestProveSwissKeepsTheRuleBook.
func TestSwissFindsTheLeastCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 10).Draw(t, "n")
		rounds := rapid.IntRange(1, 7).Draw(t, "rounds")
		luck := NewLot(rapid.Uint64Range(0, 1<<40).Draw(t, "luck"))
		var played [][]SwissOutcome
		for r := 1; r <= rounds; r++ {
			entries := history(t, n, played, luck)
			o := SwissOptions{Round: r, Rounds: rounds, Win: 2, LotSeed: 3}
			s := newSwiss(entries, o)
			got, err := s.solve()
			if err != nil {
				t.Fatal(err)
			}
			least, want := s.everyPairing()
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("round %d: pairing (-want +got):\n%s\nit costs %v, the best %v", r, diff, s.total(got), least)
			}
			round, err := NextSwissRound(entries, o)
			if err != nil {
				t.Fatal(err)
			}
			checkSwissRound(t, entries, round)
			played = append(played, outcomes(round, luck))
		}
	})
}

// checkSwissRound says whether everybody who is there is paired once, with a bye only in an odd field.
func checkSwissRound(t interface{ Fatalf(string, ...any) }, entries []SwissEntry, round SwissRound) {
	seen := make([]int, len(entries))
	for _, p := range round.Pairs {
		seen[p.First]++
		seen[p.Second]++
	}
	if round.Bye >= 0 {
		seen[round.Bye]++
	}
	there := 0
	for e, times := range seen {
		if times != int(one(!entries[e].Absent)) {
			t.Fatalf("entry %d is paired %d times, absent: %v", e, times, entries[e].Absent)
		}
		there += times
	}
	if (round.Bye >= 0) != (there%2 == 1) {
		t.Fatalf("%d entries, bye of %d", there, round.Bye)
	}
}

// everyPairing is the dumb version of solve: the best pairing of every subset of the field, by the partners of the
// first one in it. It takes n 2^n steps.
func (s *swiss) everyPairing() (total []int64, mate []int) {
	n := len(s.field)
	p := s.pack()
	even := n + n%2
	cost := make([][]int64, even*even)
	for v := range n {
		for w := v + 1; w < even; w++ {
			if w == n {
				cost[v*even+w] = p.byeOf(v)
			} else {
				cost[v*even+w] = p.pair(v, w)
			}
		}
	}
	best := make([][]int64, 1<<even)
	with := make([]int, 1<<even)
	best[0] = make([]int64, p.words)
	for left := 1; left < 1<<even; left++ {
		if bits.OnesCount(uint(left))%2 == 1 {
			continue
		}
		v := bits.TrailingZeros(uint(left))
		for w := v + 1; w < even; w++ {
			if left&(1<<w) == 0 {
				continue
			}
			sum := slices.Clone(best[left&^(1<<v)&^(1<<w)])
			for i, c := range cost[v*even+w] {
				sum[i] += c
			}
			if best[left] == nil || slices.Compare(sum, best[left]) < 0 {
				best[left], with[left] = sum, w
			}
		}
	}
	mate = make([]int, n)
	for left := 1<<even - 1; left != 0; {
		v := bits.TrailingZeros(uint(left))
		w := with[left]
		mate[v] = w
		if w < n {
			mate[w] = v
		}
		left = left &^ (1 << v) &^ (1 << w)
	}
	return best[1<<even-1], mate
}

// total sums up what a pairing costs.
func (s *swiss) total(mate []int) []int64 {
	p := s.pack()
	sum := make([]int64, p.words)
	for v, w := range mate {
		var cost []int64
		switch {
		case w == len(s.field):
			cost = p.byeOf(v)
		case v < w:
			cost = p.pair(v, w)
		default:
			continue
		}
		for i := range sum {
			sum[i] += cost[i]
		}
	}
	return sum
}

// FIDE Handbook C.04.1 (1990s edition), D.1: of six with one score whose halves can meet, whoever has met whom, the
// pairing is the first transposition that avoids a rematch. All 512 cases; in larger groups the two differ at times.
func TestSwissOfSixFollowsTheTranspositions(t *testing.T) {
	for met := range 1 << 9 {
		entries := newcomers(6)
		for e := range entries {
			entries[e].Opponents = []int{-1, -1, -1}
		}
		for i := range 9 { // In each of three rounds every one of the top half has had its turn with one of the bottom half.
			if a, b, r := i/3, 3+i%3, (i/3+i%3)%3; met&(1<<i) != 0 {
				entries[a].Opponents[r], entries[b].Opponents[r] = b, a
			}
		}
		var want []int
		transpositions([]int{3, 4, 5}, func(order []int) bool {
			for a, b := range order {
				if slices.Contains(entries[a].Opponents, b) {
					return true
				}
			}
			want = slices.Clone(order)
			return false
		})
		if want == nil {
			continue
		}
		got, err := newSwiss(entries, SwissOptions{Round: 4, Rounds: 9, Win: 2}).solve()
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(want, got[:3]) {
			t.Errorf("met %09b: the top half meets %v, want %v", met, got[:3], want)
		}
	}
}

// In the largest field that is taken, with more score groups than have rules of their own, no word can overflow and
// the matching takes the costs.
func TestSwissCostsFitTheirWords(t *testing.T) {
	for _, groups := range []int{1, 2, groupRules, MaxSwiss} {
		entries := newcomers(MaxSwiss)
		for e := range entries {
			entries[e].Points = int64(e % groups)
			entries[e].Opponents = make([]int, 1000) // Only their number matters here.
		}
		s := newSwiss(entries, SwissOptions{Round: 1001, Rounds: 1001, Win: 2})
		for d := range int64(mostDifferences) {
			s.differences = append(s.differences, mostDifferences-d)
		}
		p := s.pack()
		most := make([]int64, p.words)
		for i, rule := range p.rules {
			k := p.word[i]
			most[k] = most[k]*p.radix[i] + rule.most*MaxSwiss/2
		}
		if worst := slices.Max(most); worst >= 1<<wordBits {
			t.Errorf("%d groups: a word can come to %d", groups, worst)
		}
		if cells := MaxSwiss * MaxSwiss * p.words; cells > matching.MaxCells {
			t.Errorf("%d groups: %d words are too many", groups, p.words)
		}
	}
}

// More score groups than have rules of their own are paired all the same, everybody with a neighbour.
func TestSwissWithVeryManyScores(t *testing.T) {
	entries := newcomers(2 * groupRules)
	for e := range entries {
		entries[e].Points = -int64(e)
	}
	round, err := NextSwissRound(entries, SwissOptions{Round: 1, Rounds: 1, Win: 2})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range round.Pairs {
		if a, b := min(p.First, p.Second), max(p.First, p.Second); a != 2*i || b != 2*i+1 {
			t.Errorf("pairing %d is %d against %d", i, a, b)
		}
	}
}
