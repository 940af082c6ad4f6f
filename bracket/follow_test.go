package bracket

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func four(t *testing.T) *Draw {
	t.Helper()
	d, err := Knockout(4, KnockoutOptions{Seeds: 4, ThirdPlace: true})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestFollow(t *testing.T) {
	tests := []struct {
		name  string
		heats map[string][]int
		want  []HeatView
	}{
		{
			"nothing has run", nil,
			[]HeatView{
				{ID: "1.1", Round: 1, Lanes: []int{0, 3}, State: Ready},
				{ID: "1.2", Round: 1, Lanes: []int{1, 2}, State: Ready},
				{ID: "2.1", Round: 2, Lanes: []int{Unknown, Unknown}, State: Waiting},
				{ID: "2.2", Round: 2, Lanes: []int{Unknown, Unknown}, State: Waiting},
			},
		},
		{
			"a loser who withdrew leaves a walkover for third place",
			map[string][]int{"1.1": {3}, "1.2": {1, 2}},
			[]HeatView{
				{ID: "1.1", Round: 1, Lanes: []int{0, 3}, State: Decided, Order: []int{3}},
				{ID: "1.2", Round: 1, Lanes: []int{1, 2}, State: Decided, Order: []int{1, 2}},
				{ID: "2.1", Round: 2, Lanes: []int{Vacant, 2}, State: Walkover, Order: []int{2}},
				{ID: "2.2", Round: 2, Lanes: []int{3, 1}, State: Ready},
			},
		},
		{
			"nobody came to a heat",
			map[string][]int{"1.1": {}, "1.2": {1, 2}},
			[]HeatView{
				{ID: "1.1", Round: 1, Lanes: []int{0, 3}, State: Decided, Order: []int{}},
				{ID: "1.2", Round: 1, Lanes: []int{1, 2}, State: Decided, Order: []int{1, 2}},
				{ID: "2.1", Round: 2, Lanes: []int{Vacant, 2}, State: Walkover, Order: []int{2}},
				{ID: "2.2", Round: 2, Lanes: []int{Vacant, 1}, State: Walkover, Order: []int{1}},
			},
		},
		{
			"a semi-final was ruled the other way after the final",
			map[string][]int{"1.1": {3, 0}, "1.2": {1, 2}, "2.2": {0, 1}},
			[]HeatView{
				{ID: "1.1", Round: 1, Lanes: []int{0, 3}, State: Decided, Order: []int{3, 0}},
				{ID: "1.2", Round: 1, Lanes: []int{1, 2}, State: Decided, Order: []int{1, 2}},
				{ID: "2.1", Round: 2, Lanes: []int{0, 2}, State: Ready},
				{ID: "2.2", Round: 2, Lanes: []int{3, 1}, State: Decided, Order: []int{0, 1}, Contradicts: true},
			},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, four(t).Follow(Results{Heats: tt.heats})); diff != "" {
				t.Errorf("heats (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPlacings(t *testing.T) {
	tests := []struct {
		name  string
		heats map[string][]int
		want  []Placing
	}{
		{
			"before the first heat", nil,
			[]Placing{{0, 1, false}, {1, 1, false}, {2, 1, false}, {3, 1, false}},
		},
		{
			"one semi-final is over: its loser still runs for third place",
			map[string][]int{"1.1": {3, 0}},
			[]Placing{{0, 1, false}, {1, 1, false}, {2, 1, false}, {3, 1, false}},
		},
		{
			"the whole day",
			map[string][]int{"1.1": {3, 0}, "1.2": {1, 2}, "2.1": {2, 0}, "2.2": {1, 3}},
			[]Placing{{1, 1, true}, {3, 2, true}, {2, 3, true}, {0, 4, true}},
		},
		{
			"the loser of a semi-final withdrew",
			map[string][]int{"1.1": {3}, "1.2": {1, 2}, "2.2": {1, 3}},
			[]Placing{{1, 1, true}, {3, 2, true}, {2, 3, true}, {0, 4, true}},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, four(t).Placings(Results{Heats: tt.heats})); diff != "" {
				t.Errorf("placings (-want +got):\n%s", diff)
			}
		})
	}
}

// Favourites win: seed k of a nested knockout ends in the place that its round gives.
func TestPlacingsOfFavourites(t *testing.T) {
	for _, n := range []int{2, 3, 5, 8, 11, 16, 33} {
		d, err := Knockout(n, KnockoutOptions{Seeds: n})
		if err != nil {
			t.Fatal(err)
		}
		res := play(t, d, func(a, b int) bool { return a < b })
		for _, p := range d.Placings(res) {
			want := 1
			if p.Entry > 0 {
				want = 1<<(seedGroup(p.Entry+1)-1) + 1
			}
			if p.Rank != want || !p.Done {
				t.Errorf("%d entries: seed %d has rank %d (done %v), want %d", n, p.Entry+1, p.Rank, p.Done, want)
			}
		}
	}
}

func TestDrawLooksUpHeats(t *testing.T) {
	d := four(t)
	if h, known := d.Heat("2.2"); !known || h.Purpose != Final {
		t.Errorf("heat 2.2 is %+v, %v", h, known)
	}
	if v, known := d.Lanes("1.2", Results{}); !known || v.State != Ready {
		t.Errorf("heat 1.2 is %+v, %v", v, known)
	}
	if _, known := d.Heat("9.9"); known {
		t.Error("heat 9.9 was found")
	}
	if _, known := d.Lanes("9.9", Results{}); known {
		t.Error("lanes of heat 9.9 were found")
	}
}

func TestRefusalNamesEntries(t *testing.T) {
	_, err := TimedRound([]int{4, 4}, TimedOptions{Round: 1, Lanes: 2})
	if got, want := err.Error(), "an entry is listed twice (entries number [4])"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Lanes that wait for groups, next best and places know nobody until they are known, and stay vacant where fewer came.
func TestFollowGroupsAndPlaces(t *testing.T) {
	d := &Draw{Rounds: []Round{
		{Number: 1, Heats: []Heat{{ID: "1.1", Lanes: []Slot{EntryAt(0), EntryAt(1), Nobody()}}}},
		{Number: 2, Heats: []Heat{{ID: "2.1", Lanes: []Slot{PlaceOf("1.1", 2), GroupPlace("A", 1), NextBest(1, 1), PlaceOf("8.8", 1)}}}},
	}}
	tests := []struct {
		name string
		res  Results
		want []int
	}{
		{"nothing known", Results{}, []int{Unknown, Unknown, Unknown, Unknown}},
		{
			"all known",
			Results{Heats: map[string][]int{"1.1": {1, 0}}, Groups: map[string][]int{"A": {7}}, NextBest: map[int][]int{1: {5}}},
			[]int{0, 7, 5, Unknown},
		},
		{
			"fewer came",
			Results{Heats: map[string][]int{"1.1": {1}}, Groups: map[string][]int{"A": {}}, NextBest: map[int][]int{1: {}}},
			[]int{Vacant, Vacant, Vacant, Unknown},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			v, _ := d.Lanes("2.1", tt.res)
			if diff := cmp.Diff(tt.want, v.Lanes); diff != "" {
				t.Errorf("lanes (-want +got):\n%s", diff)
			}
		})
	}
}
