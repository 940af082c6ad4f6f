package bracket

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// With a plate nobody goes home after one race, except where one alone was beaten at once, in a field below six;
// the plate has a winner, and the main places are those of the knockout without it.
func TestPlate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 70).Draw(t, "n")
		o := KnockoutOptions{Seeds: n, Plate: true, ThirdPlace: rapid.Bool().Draw(t, "third")}
		d, err := Knockout(n, o)
		if err != nil {
			t.Fatal(err)
		}
		luck := rapid.Uint64Range(0, 1<<40).Draw(t, "luck")
		better := NewLot(luck).Perm(n)
		win := func(a, b int) bool { return better[a] < better[b] }
		res := play(t, d, win)
		runs := make([]int, n)
		for _, order := range res.Heats {
			for _, e := range order {
				runs[e]++
			}
		}
		if n > 5 && slices.Min(runs) < 2 {
			t.Fatalf("%d entries: somebody ran %d times: %v", n, slices.Min(runs), runs)
		}
		for e, least := range d.RunsAtLeast() {
			if runs[e] < least {
				t.Fatalf("entry %d ran %d times, %d were sure", e, runs[e], least)
			}
		}
		if last := d.Rounds[len(d.Rounds)-1]; last.Heats[len(last.Heats)-1].Purpose != Final {
			t.Fatalf("the final is not the last heat: %+v", last)
		}
		for i, r := range d.Rounds {
			if r.Number != i+1 {
				t.Fatalf("round %d has the number %d", i+1, r.Number)
			}
		}
		o.Plate = false
		plain, err := Knockout(n, o)
		if err != nil {
			t.Fatal(err)
		}
		if n > 5 {
			plate := d.PlatePlacings(res)
			if plate[0].Rank != 1 || !plate[0].Done || plate[1].Rank != 2 {
				t.Fatalf("plate placings %v", plate)
			}
		}
		if diff := cmp.Diff(plain.Placings(play(t, plain, win)), d.Placings(res)); diff != "" {
			t.Fatalf("main placings (-plain +with plate):\n%s", diff)
		}
	})
}

func TestRunsAtLeast(t *testing.T) {
	knockout, err := Knockout(5, KnockoutOptions{Seeds: 5})
	if err != nil {
		t.Fatal(err)
	}
	double, err := DoubleElimination(5, KnockoutOptions{Seeds: 5})
	if err != nil {
		t.Fatal(err)
	}
	groups, err := Groups(6, GroupOptions{Groups: 2, Cycles: 2, Seeds: 6, Advance: 1})
	if err != nil {
		t.Fatal(err)
	}
	heats, err := Heats(9, HeatsOptions{Lanes: 3, Seeds: 9, Advance: 1})
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name string
		d    *Draw
		want []int
	}{
		{"knockout", knockout, []int{1, 1, 1, 1, 1}},
		{"double elimination", double, []int{2, 2, 2, 2, 2}},
		{"groups of three, twice", groups, []int{4, 4, 4, 4, 4, 4}},
		{"heats", heats, []int{1, 1, 1, 1, 1, 1, 1, 1, 1}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, tt.d.RunsAtLeast()); diff != "" {
				t.Errorf("runs at least (-want +got):\n%s", diff)
			}
		})
	}
}

func TestBFinal(t *testing.T) {
	d, err := Heats(12, HeatsOptions{Lanes: 4, Seeds: 12, Advance: 1, NextBest: 1, BFinal: true})
	if err != nil {
		t.Fatal(err)
	}
	want := []Heat{
		{ID: "2.1", Purpose: BFinal, Lanes: []Slot{NextBest(1, 2), NextBest(1, 3), NextBest(1, 4), NextBest(1, 5)}},
		{ID: "2.2", Purpose: Final, Lanes: []Slot{PlaceOf("1.1", 1), PlaceOf("1.2", 1), PlaceOf("1.3", 1), NextBest(1, 1)}},
	}
	if diff := cmp.Diff(want, d.Rounds[1].Heats); diff != "" {
		t.Errorf("finals (-want +got):\n%s", diff)
	}
}
