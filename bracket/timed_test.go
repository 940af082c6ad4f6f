package bracket

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestTimedRoundProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := rapid.SliceOfNDistinct(rapid.IntRange(0, 500), 0, 60, rapid.ID[int]).Draw(t, "entries")
		o := TimedOptions{
			Round:   rapid.IntRange(1, 4).Draw(t, "round"),
			Lanes:   rapid.IntRange(1, 8).Draw(t, "lanes"),
			Order:   rapid.SampledFrom([]DealOrder{DealByLot, DealBySeed}).Draw(t, "order"),
			Cars:    rapid.SliceOfN(rapid.IntRange(-3, 8), len(entries), len(entries)).Draw(t, "cars"),
			Earlier: rapid.SliceOfN(rapid.SliceOfN(rapid.IntRange(-1, 500), 0, 8), 0, 20).Draw(t, "earlier"),
			LotSeed: rapid.Uint64Range(0, MaxLotSeed).Draw(t, "lot"),
		}
		round, err := TimedRound(entries, o)
		if err != nil {
			t.Fatal(err)
		}
		carOf := map[int]int{}
		for i, e := range entries {
			carOf[e] = o.Cars[i]
		}
		var seen []int
		smallest, largest := len(entries), 0
		for _, h := range round.Heats {
			lanes := entriesOf(h)
			smallest, largest = min(smallest, len(lanes)), max(largest, len(lanes))
			seen = append(seen, lanes...)
			for i, a := range lanes {
				for _, b := range lanes[:i] {
					if carOf[a] >= 0 && carOf[a] == carOf[b] {
						t.Fatalf("entries %d and %d share car %d and heat %s", a, b, carOf[a], h.ID)
					}
				}
			}
		}
		if largest > o.Lanes || len(entries) > 0 && largest-smallest > 1 {
			t.Fatalf("heats of %d to %d entries with %d lanes", smallest, largest, o.Lanes)
		}
		slices.Sort(seen)
		if want := slices.Sorted(slices.Values(entries)); !slices.Equal(seen, want) {
			t.Fatalf("dealt %v, want %v", seen, want)
		}
		again, err := TimedRound(entries, o)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(round, again); diff != "" {
			t.Fatalf("the same input gave another round:\n%s", diff)
		}
	})
}

func TestTimedRoundBySeedMakesHeatsAlike(t *testing.T) {
	d, err := TimedRounds(12, 1, TimedOptions{Lanes: 4, Order: DealBySeed})
	if err != nil {
		t.Fatal(err)
	}
	var got [][]int
	for _, h := range d.Rounds[0].Heats {
		got = append(got, entriesOf(h))
	}
	want := [][]int{{0, 5, 6, 11}, {1, 4, 7, 10}, {2, 3, 8, 9}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("heats (-want +got):\n%s", diff)
	}
}

// Rounds rotate: four rounds of 16 in heats of 4 can let each two meet at most once (the affine plane of order 4), and
// a search for least repetition comes near to it.
func TestTimedRoundsRotate(t *testing.T) {
	d, err := TimedRounds(16, 4, TimedOptions{Lanes: 4, LotSeed: 42})
	if err != nil {
		t.Fatal(err)
	}
	met := map[[2]int]int{}
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			for lane, e := range entriesOf(h) {
				for _, other := range entriesOf(h)[:lane] {
					met[[2]int{min(e, other), max(e, other)}]++
				}
			}
		}
	}
	again, most := 0, 0
	for _, times := range met {
		again += times - 1
		most = max(most, times)
	}
	if again > 8 || most > 2 {
		t.Errorf("%d meetings again, one pair up to %d times; drawn blindly it would be about 17", again, most)
	}
}

// The expected rounds of this test may not be edited: same input and lot seed, same draw.
func TestTimedRoundsAreFrozen(t *testing.T) {
	d, err := TimedRounds(10, 2, TimedOptions{Lanes: 4, LotSeed: 42, Cars: []int{1, 1, 1, -1, -1, -1, -1, -1, 2, 2}})
	if err != nil {
		t.Fatal(err)
	}
	var got [][]int
	for _, r := range d.Rounds {
		for _, h := range r.Heats {
			got = append(got, entriesOf(h))
		}
	}
	want := [][]int{{6, 7, 0}, {1, 5, 8}, {2, 9, 4, 3}, {9, 0, 5}, {8, 6, 2}, {3, 1, 7, 4}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the draw changed (-want +got):\n%s", diff)
	}
}

func TestTimedRoundRefuses(t *testing.T) {
	tests := []struct {
		name    string
		entries []int
		o       TimedOptions
		rule    string
		whom    []int
	}{
		{"an entry twice", []int{4, 5, 4}, TimedOptions{Round: 1, Lanes: 2}, "entries", []int{4}},
		{"a negative number", []int{4, -5}, TimedOptions{Round: 1, Lanes: 2}, "entries", nil},
		{"round 0", []int{4, 5}, TimedOptions{Lanes: 2}, "round", nil},
		{"no lane", []int{4, 5}, TimedOptions{Round: 1}, "lanes", nil},
		{"too many lanes", []int{4, 5}, TimedOptions{Round: 1, Lanes: MaxLanes + 1}, "lanes", nil},
		{"heats that do not hold the field", []int{4, 5, 6}, TimedOptions{Round: 1, Lanes: 2, Heats: 1}, "heats", nil},
		{"siblings and too few heats", []int{9, 5, 6}, TimedOptions{Round: 1, Lanes: 4, Heats: 1, Cars: []int{3, -1, 3}}, "one-car", []int{6, 9}},
		{"cars of others", []int{4, 5}, TimedOptions{Round: 1, Lanes: 2, Cars: []int{1}}, "cars", nil},
		{"unknown order", []int{4, 5}, TimedOptions{Round: 1, Lanes: 2, Order: "spiral"}, "order", nil},
		{"lot seed too large", []int{4, 5}, TimedOptions{Round: 1, Lanes: 2, LotSeed: MaxLotSeed + 1}, "lot-seed", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := TimedRound(tt.entries, tt.o)
			var refusal *Refusal
			if !errors.As(err, &refusal) || refusal.Rule != tt.rule || !slices.Equal(refusal.Entries, tt.whom) {
				t.Errorf("got %v; want a refusal by the rule %q of %v", err, tt.rule, tt.whom)
			}
		})
	}
}

// The way out that is always open: siblings dealt in a row, without turning back, never meet.
func TestSiblingsDealtInARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		heats := rapid.IntRange(1, 6).Draw(t, "heats")
		var cars []int
		for car := range rapid.IntRange(0, 8).Draw(t, "cars") {
			for range rapid.IntRange(1, heats).Draw(t, "siblings") {
				cars = append(cars, car)
			}
		}
		n := len(cars)
		d := &dealing{cars: ownNumbers(cars, n)}
		d.deal(siblingsFirst(rapid.Permutation(upTo(n)).Draw(t, "order"), d.cars), heats, false)
		for e := range n {
			if !d.fits(e, d.seat[e].heat, e) {
				t.Fatalf("cars %v: entry %d meets a sibling in %v", cars, e, d.members)
			}
		}
	})
}

// assign against every permutation.
func TestAssignIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		cost := make([][]int, n)
		for i := range cost {
			cost[i] = rapid.SliceOfN(rapid.IntRange(-9, 9), n, n).Draw(t, "row")
		}
		columns := assign(cost)
		total := func(of []int) int {
			sum := 0
			for i, j := range of {
				sum += cost[i][j]
			}
			return sum
		}
		if !slices.Equal(slices.Sorted(slices.Values(columns)), upTo(n)) {
			t.Fatalf("%v is no assignment", columns)
		}
		best := total(columns)
		all := upTo(n)
		permute(all, upTo(n), 0, func() { best = min(best, total(all)) })
		if got := total(columns); got != best {
			t.Errorf("cost %d, the least is %d", got, best)
		}
	})
}
