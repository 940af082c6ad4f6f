package bracket

import (
	"errors"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// pairTree turns a first round into its tree: seeds from 1, 0 for a bye.
func pairTree(pairs [][2]int) []int {
	var flat []int
	for _, p := range pairs {
		flat = append(flat, p[0], p[1])
	}
	return tree(flat)
}

// testdata/knockout_byes.json: line-ups derived from the placement and the ITF rule that byes go to the seeds in
// descending order.
func TestByesGoToTheTopSeeds(t *testing.T) {
	var file struct {
		Lineups map[string][][2]int `json:"lineups"`
	}
	readJSON(t, "knockout_byes.json", &file)
	if len(file.Lineups) == 0 {
		t.Fatal("no line-up was read")
	}
	for name, want := range file.Lineups {
		n, err := strconv.Atoi(name)
		if err != nil {
			t.Fatal(err)
		}
		lines, _, err := knockoutLines(n, KnockoutOptions{Seeds: n})
		if err != nil {
			t.Fatal(err)
		}
		var got [][2]int
		for i := 0; i < len(lines); i += 2 {
			got = append(got, [2]int{lines[i] + 1, lines[i+1] + 1})
		}
		if diff := cmp.Diff(pairTree(want), pairTree(got)); diff != "" {
			t.Errorf("%d entries (-want +got):\n%s", n, diff)
		}
	}
}

// play runs a plan to its end; the better of two is decided by win(a, b). It returns all results.
func play(t interface{ Fatalf(string, ...any) }, d *Draw, win func(a, b int) bool) Results {
	res := Results{Heats: map[string][]int{}}
	for step := 0; ; step++ {
		if step > d.HeatsTotal()+1 {
			t.Fatalf("the plan does not come to an end")
		}
		ran := false
		for _, v := range d.Follow(res) {
			if v.State != Ready {
				continue
			}
			order := slices.Clone(v.Lanes)
			slices.SortStableFunc(order, func(a, b int) int {
				if win(a, b) {
					return -1
				}
				return 1
			})
			res.Heats[v.ID] = order
			ran = true
		}
		if !ran {
			break
		}
	}
	for _, v := range d.Follow(res) {
		if v.State == Waiting || v.State == Ready {
			t.Fatalf("heat %s is %s at the end", v.ID, v.State)
		}
	}
	return res
}

// testdata/knockout_counts.csv: every match removes one entry, so n-1 (a counting argument).
func TestKnockoutCounts(t *testing.T) {
	header := readCSV(t, "knockout_counts.csv")[0]
	column := func(name string) int { return slices.Index(header, name) }
	rows := readNumbers(t, "knockout_counts.csv")
	if len(rows) != 63 {
		t.Fatalf("%d rows of counts, want 63", len(rows))
	}
	for _, row := range rows {
		n := row[column("n")]
		d, err := Knockout(n, KnockoutOptions{Seeds: n})
		if err != nil {
			t.Fatal(err)
		}
		third, err := Knockout(n, KnockoutOptions{Seeds: n, ThirdPlace: true})
		if err != nil {
			t.Fatal(err)
		}
		wantThird := row[column("single_elim_with_3rd_place")]
		if n < 4 {
			wantThird = n - 1 // A heat for third place means nothing below four.
		}
		got := []int{
			len(d.Rounds), len(d.Rounds[0].Byes), len(d.Rounds[0].Heats), d.HeatsTotal(), third.HeatsTotal(),
			len(play(t, d, func(a, b int) bool { return a < b }).Heats),
		}
		want := []int{
			row[column("rounds")], row[column("byes")], row[column("matches_round1")],
			row[column("single_elim_matches")], wantThird, row[column("single_elim_matches")],
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%d entries: rounds, byes, first heats, heats, with third place, heats run (-want +got):\n%s", n, diff)
		}
	}
}

func TestSeedsByLotKeepToTheirLines(t *testing.T) {
	for _, way := range []Lines{SectionLines, QuarterLines} {
		orders := map[[2]int]int{}
		for seed := range uint64(200) {
			lines, _, err := knockoutLines(32, KnockoutOptions{Seeds: 8, Order: ByLotOrder, Lines: way, LotSeed: seed})
			if err != nil {
				t.Fatal(err)
			}
			for g, group := range SeedLines(32, 8, way) {
				for _, line := range group {
					if e := lines[line-1]; seedGroup(e+1) != g {
						t.Fatalf("%s, lot %d: line %d of group %d holds seed %d", way, seed, line, g, e+1)
					}
				}
			}
			orders[[2]int{slices.Index(lines, 2), slices.Index(lines, 3)}]++
		}
		if len(orders) != 2 {
			t.Errorf("%s: seeds 3 and 4 only ever stood as %v", way, orders)
		}
	}
}

// Whatever the options: each entry once, no two byes meet, byes go to the seeds first, and the byes of halves,
// quarters and so on differ by no more than the seeds force.
func TestKnockoutProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 130).Draw(t, "n")
		o := KnockoutOptions{
			Seeds:   rapid.IntRange(0, n).Draw(t, "seeds"),
			Order:   rapid.SampledFrom([]SeedOrder{NestedOrder, ByLotOrder}).Draw(t, "order"),
			LotSeed: rapid.Uint64Range(0, MaxLotSeed).Draw(t, "lot"),
		}
		if rapid.Bool().Draw(t, "separate") {
			o.Clubs = rapid.SliceOfN(rapid.IntRange(-1, 6), n, n).Draw(t, "clubs")
		}
		lines, _, err := knockoutLines(n, o)
		if err != nil {
			t.Fatal(err)
		}
		var seen []int
		withBye := map[int]bool{}
		for i := 0; i < len(lines); i += 2 {
			a, b := lines[i], lines[i+1]
			if a == noEntry && b == noEntry {
				t.Fatalf("two byes meet in %v", lines)
			}
			if a == noEntry || b == noEntry {
				withBye[max(a, b)] = true
			}
			for _, e := range []int{a, b} {
				if e != noEntry {
					seen = append(seen, e)
				}
			}
		}
		slices.Sort(seen)
		for i, e := range seen {
			if e != i {
				t.Fatalf("entry %d is missing or twice in %v", i, lines)
			}
		}
		byes := len(lines) - n
		for seed := range min(byes, o.Seeds) {
			if !withBye[seed] {
				t.Fatalf("seed %d has no bye in %v", seed+1, lines)
			}
		}
		again, _, err := knockoutLines(n, o)
		if err != nil || !slices.Equal(lines, again) {
			t.Fatalf("the same input drew %v, then %v (%v)", lines, again, err)
		}
	})
}

// With nobody seeded the byes are spread: the halves of every section differ by at most one.
func TestByesWithoutSeedsAreSpread(t *testing.T) {
	for n := 2; n <= 70; n++ {
		lines, _, err := knockoutLines(n, KnockoutOptions{LotSeed: uint64(n)})
		if err != nil {
			t.Fatal(err)
		}
		for width := 2; width < len(lines); width *= 2 {
			for lo := 0; lo < len(lines); lo += 2 * width {
				left, right := countByes(lines[lo:lo+width]), countByes(lines[lo+width:lo+2*width])
				if left-right > 1 || right-left > 1 {
					t.Fatalf("%d entries: %d and %d byes side by side in %v", n, left, right, lines)
				}
			}
		}
	}
}

func countByes(lines []int) int {
	byes := 0
	for _, e := range lines {
		if e == noEntry {
			byes++
		}
	}
	return byes
}

// The expected draws of this test may not be edited: same input and lot seed, same draw, for ever.
func TestKnockoutIsFrozen(t *testing.T) {
	tests := []struct {
		name string
		n    int
		o    KnockoutOptions
		want []int
	}{
		{"all by lot", 11, KnockoutOptions{LotSeed: 42}, []int{10, -1, 3, 2, 0, -1, 9, 8, 1, -1, 5, 7, 4, -1, 6, -1}},
		{"four seeds, others by lot", 12, KnockoutOptions{Seeds: 4, LotSeed: 42}, []int{0, -1, 7, 11, 3, -1, 10, 4, 1, -1, 5, 6, 2, -1, 8, 9}},
		{
			"eight seeds by lot", 16,
			KnockoutOptions{Seeds: 8, Order: ByLotOrder, LotSeed: 42},
			[]int{0, 15, 10, 5, 4, 8, 13, 2, 3, 9, 11, 7, 6, 14, 12, 1},
		},
		{
			"clubs apart", 16,
			KnockoutOptions{Seeds: 16, Clubs: []int{0, 1, 1, 0, 2, 2, 2, 2, 0, 0, 1, 1, 3, 3, 3, 3}},
			[]int{0, 15, 7, 10, 3, 12, 4, 11, 1, 14, 6, 9, 2, 13, 5, 8},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, _, err := knockoutLines(tt.n, tt.o)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("the draw changed (-want +got):\n%s", diff)
			}
		})
	}
}

func TestKnockoutRefuses(t *testing.T) {
	tests := []struct {
		name string
		n    int
		o    KnockoutOptions
		rule string
	}{
		{"nobody", 0, KnockoutOptions{}, "entries"},
		{"one entry", 1, KnockoutOptions{}, "entries"},
		{"too many", MaxEntries + 1, KnockoutOptions{}, "entries"},
		{"more seeds than entries", 4, KnockoutOptions{Seeds: 5}, "seeds"},
		{"negative seeds", 4, KnockoutOptions{Seeds: -1}, "seeds"},
		{"unknown order", 4, KnockoutOptions{Order: "spiral"}, "order"},
		{"unknown lines", 4, KnockoutOptions{Lines: "spiral"}, "lines"},
		{"16 seeds by quarters", 64, KnockoutOptions{Seeds: 16, Order: ByLotOrder, Lines: QuarterLines}, "seeds"},
		{"clubs of others", 4, KnockoutOptions{Clubs: []int{1}}, "clubs"},
		{"cars of others", 4, KnockoutOptions{Cars: []int{1}}, "cars"},
		{"lot seed too large", 4, KnockoutOptions{LotSeed: MaxLotSeed + 1}, "lot-seed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Knockout(tt.n, tt.o)
			var refusal *Refusal
			if d != nil || !errors.As(err, &refusal) || refusal.Rule != tt.rule {
				t.Errorf("got %v, %v; want a refusal by the rule %q", d, err, tt.rule)
			}
		})
	}
}
