package bracket

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The shape of the old ITTF rule 3.6.3: with k members of an association placed, no two share a 1/k section.
func TestClubOfKStandsInKSections(t *testing.T) {
	for _, size := range []int{16, 32, 64} {
		for k := 2; k <= 16 && k <= size/2; k *= 2 {
			for lot := range uint64(10) {
				clubs := make([]int, size)
				for i := range clubs {
					clubs[i] = i / k // As many clubs of k as the field holds.
				}
				o := KnockoutOptions{Clubs: clubs, LotSeed: lot}
				lines, notes, err := knockoutLines(size, o)
				if err != nil {
					t.Fatal(err)
				}
				for lo := 0; lo < size; lo += size / k {
					in := map[int]bool{}
					for _, e := range lines[lo : lo+size/k] {
						if in[clubs[e]] {
							t.Fatalf("%d lines, clubs of %d, lot %d: two of club %d in one section of %v", size, k, lot, clubs[e], lines)
						}
						in[clubs[e]] = true
					}
				}
				if len(notes) != 0 {
					t.Errorf("notes on a perfect separation: %v", notes)
				}
			}
		}
	}
}

// A dumb version tries every order of the entries that may move.
func TestSeparationAgainstEveryOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(4, 8).Draw(t, "n")
		seeds := rapid.IntRange(0, 2).Draw(t, "seeds")
		clubs := rapid.SliceOfN(rapid.IntRange(-1, 2), n, n).Draw(t, "clubs")
		o := KnockoutOptions{Seeds: seeds, Clubs: clubs, LotSeed: 5}
		lines, _, err := knockoutLines(n, o)
		if err != nil {
			t.Fatal(err)
		}
		var moving []int
		for i, e := range lines {
			if e >= seeds {
				moving = append(moving, i)
			}
		}
		best := meetings(lines, clubs)
		got := slices.Clone(best)
		permute(lines, moving, 0, func() {
			if m := meetings(lines, clubs); slices.Compare(m, best) < 0 {
				best = m
			}
		})
		if diff := cmp.Diff(best, got); diff != "" {
			t.Errorf("meetings of clubmates by round (-best +got):\n%s", diff)
		}
	})
}

// meetings counts the pairs of clubmates by the round in which they can first meet.
func meetings(lines, clubs []int) []int {
	m := make([]int, 10)
	for i, a := range lines {
		for j := range i {
			if b := lines[j]; a >= 0 && b >= 0 && clubs[a] >= 0 && clubs[a] == clubs[b] {
				m[meetingRound(i, j)]++
			}
		}
	}
	return m
}

func permute(lines, moving []int, k int, visit func()) {
	if k == len(moving) {
		visit()
		return
	}
	for i := k; i < len(moving); i++ {
		a, b := moving[k], moving[i]
		lines[a], lines[b] = lines[b], lines[a]
		permute(lines, moving, k+1, visit)
		lines[a], lines[b] = lines[b], lines[a]
	}
}

func TestSeedsMoveOnlyWithinTheirGroup(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "n")
		clubs := rapid.SliceOfN(rapid.IntRange(-1, 3), n, n).Draw(t, "clubs")
		plain, _, err := knockoutLines(n, KnockoutOptions{Seeds: n})
		if err != nil {
			t.Fatal(err)
		}
		apart, notes, err := knockoutLines(n, KnockoutOptions{Seeds: n, Clubs: clubs})
		if err != nil {
			t.Fatal(err)
		}
		moved := false
		for i := range plain {
			if (plain[i] == noEntry) != (apart[i] == noEntry) || seedGroup(plain[i]+1) != seedGroup(apart[i]+1) {
				t.Fatalf("line %d held seed %d and now %d", i+1, plain[i]+1, apart[i]+1)
			}
			moved = moved || plain[i] != apart[i]
		}
		said := slices.ContainsFunc(notes, func(n Note) bool { return n.Code == SeedsMoved })
		if moved != said {
			t.Errorf("seeds moved: %v, said: %v", moved, said)
		}
	})
}

func TestWhatCannotBeKeptApartIsSaid(t *testing.T) {
	tests := []struct {
		name string
		n    int
		o    KnockoutOptions
		want []Note
	}{
		{
			"seeds 1 and 2 of one club meet in the final only", 8,
			KnockoutOptions{Seeds: 8, Clubs: []int{0, 0, -1, -1, -1, -1, -1, -1}},
			nil,
		},
		{
			"three of one club in a field of four", 4,
			KnockoutOptions{Seeds: 4, Clubs: []int{0, 0, 0, 1}},
			[]Note{{Code: ClubmatesMeet, Entries: []int{1, 2}, Round: 1}},
		},
		{
			"a field of one club", 4,
			KnockoutOptions{Seeds: 4, Clubs: []int{0, 0, 0, 0}},
			[]Note{
				{Code: ClubmatesMeet, Entries: []int{0, 3}, Round: 1},
				{Code: ClubmatesMeet, Entries: []int{1, 2}, Round: 1},
			},
		},
		{
			"two on one car have no other place", 2,
			KnockoutOptions{Seeds: 2, Cars: []int{7, 7}},
			[]Note{{Code: RunInTurn, Entries: []int{0, 1}, Round: 1}},
		},
		{
			"one car comes before one club", 4,
			KnockoutOptions{Cars: []int{7, 7, -1, -1}, Clubs: []int{0, 1, 0, 1}, LotSeed: 3},
			nil,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, notes, err := knockoutLines(tt.n, tt.o)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, notes); diff != "" {
				t.Errorf("notes (-want +got):\n%s", diff)
			}
		})
	}
}
