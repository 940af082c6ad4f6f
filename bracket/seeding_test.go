package bracket

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestSeedByRank(t *testing.T) {
	ranks := []int{3, 1, 0, 3, 2, 0}
	got := SeedByRank(ranks, 42)
	if got[0] != 1 || got[1] != 4 || ranks[got[2]] != 3 || ranks[got[3]] != 3 || ranks[got[4]] != 0 {
		t.Errorf("seeds %v of the ranks %v", got, ranks)
	}
	if diff := cmp.Diff(got, SeedByRank(ranks, 42)); diff != "" {
		t.Errorf("the same lot seeded otherwise:\n%s", diff)
	}
	orders := map[[2]int]bool{}
	for lot := range uint64(30) {
		s := SeedByRank(ranks, lot)
		orders[[2]int{s[2], s[3]}] = true
	}
	if len(orders) != 2 {
		t.Errorf("a shared rank is always seeded as %v", orders)
	}
	if got := SeedByRank(nil, 1); len(got) != 0 {
		t.Errorf("nobody was seeded as %v", got)
	}
}

func TestLegs(t *testing.T) {
	for leg, want := range map[int][2]int{1: {4, 7}, 2: {7, 4}, 3: {4, 7}} {
		if got := LegLanes([2]int{4, 7}, leg); got != want {
			t.Errorf("leg %d: lanes %v, want %v", leg, got, want)
		}
	}
	tests := []struct {
		name    string
		winners []int
		want    int
	}{
		{"nothing yet", nil, -1},
		{"one leg", []int{0}, -1},
		{"both legs", []int{1, 1}, 1},
		{"a win and a level leg", []int{-1, 0}, 0},
		{"a win each", []int{0, 1}, -1},
		{"the decider", []int{0, 1, 1}, 1},
		{"a level decider is run again", []int{0, 1, -1}, -1},
		{"the second decider", []int{0, 1, -1, 0}, 0},
		{"both level", []int{-1, -1}, -1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := DecideLegs(tt.winners); got != tt.want {
				t.Errorf("got %d, want %d", got, tt.want)
			}
		})
	}
}
