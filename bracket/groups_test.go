package bracket

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func groupsOf(d *Draw) [][]int {
	var groups [][]int
	for _, g := range d.Groups {
		groups = append(groups, g.Entries)
	}
	return groups
}

func TestGroupsAreFilledThereAndBack(t *testing.T) {
	d, err := Groups(10, GroupOptions{Groups: 3, Cycles: 1, Seeds: 10})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][]int{{0, 5, 6}, {1, 4, 7}, {2, 3, 8, 9}}, groupsOf(d)); diff != "" {
		t.Errorf("groups (-want +got):\n%s", diff)
	}
}

func TestGroupsKeepClubmatesApart(t *testing.T) {
	tests := []struct {
		name  string
		clubs []int
		want  [][]int
		notes []Note
	}{
		{"one exchange in the second row", []int{0, 1, 1, 0}, [][]int{{0, 2}, {1, 3}}, nil},
		{"three in two groups", []int{0, 1, 0, 0}, [][]int{{0, 3}, {1, 2}}, []Note{{Code: ClubmatesInGroup, Entries: []int{0, 3}, Group: "A"}}},
		{"the first row stays", []int{0, 0, -1, -1}, [][]int{{0, 3}, {1, 2}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Groups(4, GroupOptions{Groups: 2, Cycles: 1, Seeds: 4, Clubs: tt.clubs})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, groupsOf(d)); diff != "" {
				t.Errorf("groups (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.notes, d.Notes); diff != "" {
				t.Errorf("notes (-want +got):\n%s", diff)
			}
		})
	}
}

// Every two of a group meet once, nobody else does, sizes differ by at most one and so do the sides of an entry.
func TestGroupProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		groups := rapid.IntRange(1, 8).Draw(t, "groups")
		n := rapid.IntRange(2*groups, 60).Draw(t, "n")
		o := GroupOptions{
			Groups: groups, Cycles: rapid.IntRange(1, 3).Draw(t, "cycles"), Seeds: rapid.IntRange(0, n).Draw(t, "seeds"),
			Clubs: rapid.SliceOfN(rapid.IntRange(-1, 5), n, n).Draw(t, "clubs"),
			Cars:  rapid.SliceOfN(rapid.IntRange(-9, 2), n, n).Draw(t, "cars"),
		}
		d, err := Groups(n, o)
		if err != nil {
			t.Fatal(err)
		}
		groupOf := map[int]string{}
		smallest, largest := n, 0
		for _, g := range d.Groups {
			smallest, largest = min(smallest, len(g.Entries)), max(largest, len(g.Entries))
			for _, e := range g.Entries {
				groupOf[e] = g.Name
			}
		}
		if len(groupOf) != n || largest-smallest > 1 {
			t.Fatalf("%d of %d entries in groups of %d to %d", len(groupOf), n, smallest, largest)
		}
		met := map[[2]int]int{}
		for _, r := range d.Rounds {
			busy := map[int]bool{}
			for _, h := range r.Heats {
				e := entriesOf(h)
				if groupOf[e[0]] != h.Group || groupOf[e[1]] != h.Group || busy[e[0]] || busy[e[1]] {
					t.Fatalf("heat %s of group %s holds %v", h.ID, h.Group, e)
				}
				busy[e[0]], busy[e[1]] = true, true
				met[[2]int{min(e[0], e[1]), max(e[0], e[1])}]++
			}
		}
		pairs := 0
		for _, g := range d.Groups {
			pairs += len(g.Entries) * (len(g.Entries) - 1) / 2
		}
		if len(met) != pairs {
			t.Fatalf("%d pairs met, want %d", len(met), pairs)
		}
		for pair, times := range met {
			if times != o.Cycles {
				t.Fatalf("%v met %d times in %d cycles", pair, times, o.Cycles)
			}
		}
	})
}

// Those who go on: nobody of a group meets its own again before the final when two go on, and winners of groups
// are the first seeds.
func TestGroupsLeadToAKnockout(t *testing.T) {
	for _, groups := range []int{2, 3, 4, 5, 6, 8} {
		d, err := Groups(4*groups, GroupOptions{Groups: groups, Cycles: 1, Seeds: 4 * groups, Advance: 2})
		if err != nil {
			t.Fatal(err)
		}
		res := Results{Groups: map[string][]int{}, Heats: map[string][]int{}}
		groupOf := map[int]string{}
		for _, g := range d.Groups {
			res.Groups[g.Name] = g.Entries
			for _, e := range g.Entries {
				groupOf[e] = g.Name
			}
		}
		heats := 0
		for _, v := range d.Follow(res) {
			if h, _ := d.Heat(v.ID); h.Group != "" {
				continue
			}
			heats++
			if h, _ := d.Heat(v.ID); v.State == Ready && h.Purpose != Final && groupOf[v.Lanes[0]] == groupOf[v.Lanes[1]] {
				t.Errorf("%d groups: two of group %s meet in heat %s", groups, groupOf[v.Lanes[0]], v.ID)
			}
		}
		if heats != 2*groups-1 {
			t.Errorf("%d groups: %d heats of the knockout, want %d", groups, heats, 2*groups-1)
		}
	}
}

func TestNextBestGoOn(t *testing.T) {
	d, err := Groups(12, GroupOptions{Groups: 3, Cycles: 1, Seeds: 12, Advance: 2, NextBest: 2})
	if err != nil {
		t.Fatal(err)
	}
	res := Results{Groups: map[string][]int{"A": {0, 3, 6, 9}, "B": {1, 4, 7, 10}, "C": {2, 5, 8, 11}}, NextBest: map[int][]int{0: {8, 6}}}
	var in []int
	for _, v := range d.Follow(res) {
		if h, _ := d.Heat(v.ID); h.Group == "" && v.State == Ready {
			in = append(in, v.Lanes...)
		}
	}
	slices.Sort(in)
	if diff := cmp.Diff([]int{0, 1, 2, 3, 4, 5, 6, 8}, in); diff != "" {
		t.Errorf("those who went on (-want +got):\n%s", diff)
	}
}

func TestGroupNames(t *testing.T) {
	for g, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := groupName(g); got != want {
			t.Errorf("group %d is %q, want %q", g, got, want)
		}
	}
}

func TestRoundRobin(t *testing.T) {
	d, err := RoundRobin(3, RoundRobinOptions{Cycles: 1, Seeds: 3, Cars: []int{5, -1, 5}})
	if err != nil {
		t.Fatal(err)
	}
	want := &Draw{
		Kind: RoundRobinKind,
		Rounds: []Round{
			{Number: 1, Heats: []Heat{{ID: "1.1", Lanes: []Slot{EntryAt(1), EntryAt(2)}}}, Byes: []Slot{EntryAt(0)}},
			{Number: 2, Heats: []Heat{{ID: "2.1", Lanes: []Slot{EntryAt(0), EntryAt(1)}}}, Byes: []Slot{EntryAt(2)}},
			{Number: 3, Heats: []Heat{{ID: "3.1", Lanes: []Slot{EntryAt(2), EntryAt(0)}}}, Byes: []Slot{EntryAt(1)}},
		},
		Notes: []Note{{Code: RunInTurn, Entries: []int{0, 2}, Round: 3}},
	}
	if diff := cmp.Diff(want, d); diff != "" {
		t.Errorf("draw (-want +got):\n%s", diff)
	}
}

func TestGroupsRefuse(t *testing.T) {
	tests := []struct {
		name string
		n    int
		o    GroupOptions
		rule string
	}{
		{"no group", 8, GroupOptions{Cycles: 1}, "groups"},
		{"a group of one", 5, GroupOptions{Groups: 3, Cycles: 1}, "groups"},
		{"no cycle", 8, GroupOptions{Groups: 2}, "cycles"},
		{"too many cycles", 8, GroupOptions{Groups: 2, Cycles: MaxCycles + 1}, "cycles"},
		{"more advance than there are", 8, GroupOptions{Groups: 2, Cycles: 1, Advance: 5}, "advance"},
		{"one goes on alone", 8, GroupOptions{Groups: 1, Cycles: 1, Advance: 1}, "advance"},
		{"as many next best as groups", 8, GroupOptions{Groups: 2, Cycles: 1, Advance: 1, NextBest: 2}, "next-best"},
		{"next best without a knockout", 8, GroupOptions{Groups: 2, Cycles: 1, NextBest: 1}, "next-best"},
		{"clubs of others", 8, GroupOptions{Groups: 2, Cycles: 1, Clubs: []int{1}}, "clubs"},
		{"too many seeds", 8, GroupOptions{Groups: 2, Cycles: 1, Seeds: 9}, "seeds"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Groups(tt.n, tt.o)
			var refusal *Refusal
			if !errors.As(err, &refusal) || refusal.Rule != tt.rule {
				t.Errorf("got %v, want a refusal by the rule %q", err, tt.rule)
			}
		})
	}
	for _, n := range []int{0, 1, 257} {
		if _, err := RoundRobin(n, RoundRobinOptions{Cycles: 1}); err == nil {
			t.Errorf("a round robin of %d was drawn", n)
		}
	}
}

// A dumb version tries every exchange within the rows: no way to fill the groups puts fewer clubmates together.
func TestGroupsAgainstEveryFilling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clubs := rapid.SliceOfN(rapid.IntRange(-1, 2), 9, 9).Draw(t, "clubs")
		d, err := Groups(9, GroupOptions{Groups: 3, Cycles: 1, Seeds: 9, Clubs: clubs})
		if err != nil {
			t.Fatal(err)
		}
		together := func(groups [][]int) int {
			n := 0
			for _, g := range groups {
				for i, a := range g {
					for _, b := range g[:i] {
						n += int(one(clubs[a] >= 0 && clubs[a] == clubs[b]))
					}
				}
			}
			return n
		}
		best := 9
		second, third := []int{3, 4, 5}, []int{6, 7, 8}
		permute(second, upTo(3), 0, func() {
			permute(third, upTo(3), 0, func() {
				groups := [][]int{{0, second[0], third[0]}, {1, second[1], third[1]}, {2, second[2], third[2]}}
				best = min(best, together(groups))
			})
		})
		if got := together(groupsOf(d)); got != best {
			t.Fatalf("%d pairs of clubmates share a group in %v, %d could be", got, groupsOf(d), best)
		}
	})
}

// Without seeds every club can be spread over the groups evenly, whatever the clubs: a club of k in g groups need have
// no more than the k/g, rounded up, in one. Only then may a note say that no better place was free.
func TestUnseededGroupsSpreadEveryClub(t *testing.T) {
	for seed := range uint64(3000) {
		luck := NewLot(seed)
		groups := 2 + luck.Intn(6)
		n := 2*groups + luck.Intn(40)
		clubs := make([]int, n)
		size := map[int]int{}
		for e := range clubs {
			clubs[e] = luck.Intn(2+luck.Intn(12)) - 1
			if clubs[e] >= 0 {
				size[clubs[e]]++
			}
		}
		d, err := Groups(n, GroupOptions{Groups: groups, Cycles: 1, Clubs: clubs, LotSeed: seed})
		if err != nil {
			t.Fatal(err)
		}
		smallest, largest := n, 0
		for _, g := range d.Groups {
			smallest, largest = min(smallest, len(g.Entries)), max(largest, len(g.Entries))
			in := map[int]int{}
			for _, e := range g.Entries {
				if clubs[e] >= 0 {
					in[clubs[e]]++
				}
			}
			for club, k := range in {
				if k > (size[club]+groups-1)/groups {
					t.Fatalf("seed %d: %d of the %d of club %d in one of %d groups of %d", seed, k, size[club], club, groups, n)
				}
			}
		}
		if largest-smallest > 1 {
			t.Fatalf("seed %d: groups of %d to %d", seed, smallest, largest)
		}
		for _, note := range d.Notes {
			if k := size[clubs[note.Entries[0]]]; k <= groups {
				t.Fatalf("seed %d: a note says that no place was free for one of %d in %d groups", seed, k, groups)
			}
		}
	}
}
