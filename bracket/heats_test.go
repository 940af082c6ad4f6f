package bracket

import (
	"errors"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

type heatsFile struct {
	Zigzag struct {
		Cases []struct {
			Ranks, Heats int
			Expected     [][]int
		}
	}
	Circle struct {
		Cases []struct {
			Ranks, Lanes int
			Expected     [][]int          `json:"expected_heats_in_running_order"`
			Lanes_       []map[string]int `json:"lane_of_each_heat"`
		}
	}
	LaneOrder map[string][]int `json:"lane_order"`
}

func fromOne(heats [][]int) [][]int {
	var out [][]int
	for _, h := range heats {
		var ranks []int
		for _, r := range h {
			ranks = append(ranks, r+1)
		}
		out = append(out, ranks)
	}
	return out
}

// World Athletics TR 20, from memory: rank 1 to h across the heats, then back.
func TestZigzag(t *testing.T) {
	var file heatsFile
	readJSON(t, "heats.json", &file)
	if len(file.Zigzag.Cases) == 0 {
		t.Fatal("no case was read")
	}
	for _, c := range file.Zigzag.Cases {
		if diff := cmp.Diff(c.Expected, fromOne(Zigzag(c.Ranks, c.Heats))); diff != "" {
			t.Errorf("%d in %d heats (-want +got):\n%s", c.Ranks, c.Heats, diff)
		}
	}
}

// FINA Swimming Rules 2009-2013, SW 3.1.1 (heats) and SW 3.1.2 (lanes).
func TestCircleAndLanes(t *testing.T) {
	var file heatsFile
	readJSON(t, "heats.json", &file)
	if len(file.Circle.Cases) == 0 || len(file.LaneOrder) == 0 {
		t.Fatal("no case was read")
	}
	for _, c := range file.Circle.Cases {
		heats := (c.Ranks + c.Lanes - 1) / c.Lanes
		if diff := cmp.Diff(c.Expected, fromOne(Circle(c.Ranks, heats, c.Lanes, 3))); diff != "" {
			t.Errorf("%d in lanes of %d (-want +got):\n%s", c.Ranks, c.Lanes, diff)
		}
		d, err := Heats(c.Ranks, HeatsOptions{Lanes: c.Lanes, Order: CircleOrder, CentreLanes: true, Seeds: c.Ranks})
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range c.Lanes_ {
			got := map[string]int{}
			for lane, s := range d.Rounds[0].Heats[i].Lanes {
				if s.Kind == EntrySlot {
					got[strconv.Itoa(lane+1)] = s.Entry + 1
				}
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%d ranks, heat %d: rank by lane (-want +got):\n%s", c.Ranks, i+1, diff)
			}
		}
	}
	for lanes, want := range file.LaneOrder {
		n, err := strconv.Atoi(lanes)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, LaneOrder(n)); diff != "" {
			t.Errorf("%d lanes (-want +got):\n%s", n, diff)
		}
	}
	if diff := cmp.Diff([]int{3, 4, 2, 5, 1}, LaneOrder(5)); diff != "" {
		t.Errorf("5 lanes (-want +got):\n%s", diff)
	}
}

// SW 3.1.1: at least three in a heat; long races circle two heats only.
func TestCircleEdges(t *testing.T) {
	tests := []struct {
		name                        string
		ranks, heats, lanes, circle int
		want                        []int // sizes in running order
	}{
		{"25 in 8 lanes", 25, 4, 8, 3, []int{3, 7, 7, 8}},
		{"33 in 8 lanes", 33, 5, 8, 3, []int{3, 6, 8, 8, 8}},
		{"24 in 8 lanes, two circled", 24, 3, 8, 2, []int{8, 8, 8}},
		{"one heat", 5, 1, 8, 3, []int{5}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []int
			for _, h := range Circle(tt.ranks, tt.heats, tt.lanes, tt.circle) {
				got = append(got, len(h))
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("sizes (-want +got):\n%s", diff)
			}
		})
	}
	want := [][]int{{17, 18, 19, 20, 21, 22, 23, 24}, {2, 4, 6, 8, 10, 12, 14, 16}, {1, 3, 5, 7, 9, 11, 13, 15}}
	if diff := cmp.Diff(want, fromOne(Circle(24, 3, 8, 2))); diff != "" {
		t.Errorf("two circled heats (-want +got):\n%s", diff)
	}
}

func TestHeatsLeadToAFinal(t *testing.T) {
	d, err := Heats(24, HeatsOptions{Lanes: 8, Seeds: 24, Advance: 2, NextBest: 2})
	if err != nil {
		t.Fatal(err)
	}
	final := d.Rounds[len(d.Rounds)-1].Heats
	want := []Heat{{ID: "2.1", Purpose: Final, Lanes: []Slot{
		PlaceOf("1.1", 1), PlaceOf("1.2", 1), PlaceOf("1.3", 1), PlaceOf("1.1", 2), PlaceOf("1.2", 2), PlaceOf("1.3", 2),
		NextBest(1, 1), NextBest(1, 2),
	}}}
	if diff := cmp.Diff(want, final); diff != "" {
		t.Errorf("final (-want +got):\n%s", diff)
	}
	three, err := Heats(60, HeatsOptions{Lanes: 6, Seeds: 60, Advance: 2, NextBest: 4})
	if err != nil {
		t.Fatal(err)
	}
	var heats []int
	for _, r := range three.Rounds {
		heats = append(heats, len(r.Heats))
	}
	if diff := cmp.Diff([]int{10, 4, 2, 1}, heats); diff != "" {
		t.Errorf("heats by round (-want +got):\n%s", diff)
	}
}

func TestHeatsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 80).Draw(t, "n")
		o := HeatsOptions{
			Lanes: rapid.IntRange(2, 8).Draw(t, "lanes"), Order: rapid.SampledFrom([]HeatOrder{ZigzagOrder, CircleOrder}).Draw(t, "order"),
			CentreLanes: rapid.Bool().Draw(t, "centre"), Seeds: rapid.IntRange(0, n).Draw(t, "seeds"),
			Cars: rapid.SliceOfN(rapid.IntRange(-9, 5), n, n).Draw(t, "cars"), LotSeed: rapid.Uint64Range(0, 99).Draw(t, "lot"),
		}
		d, err := Heats(n, o)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[int]bool{}
		for _, h := range d.Rounds[0].Heats {
			cars := map[int]bool{}
			for _, s := range h.Lanes {
				if s.Kind != EntrySlot {
					continue
				}
				seen[s.Entry] = true
				if car := o.Cars[s.Entry]; car >= 0 && cars[car] {
					t.Fatalf("heat %s holds car %d twice", h.ID, car)
				} else if car >= 0 {
					cars[car] = true
				}
			}
			if len(h.Lanes) > o.Lanes {
				t.Fatalf("heat %s has %d lanes of %d", h.ID, len(h.Lanes), o.Lanes)
			}
		}
		if len(seen) != n {
			t.Fatalf("%d of %d entries run", len(seen), n)
		}
	})
}

func TestHeatsRefuse(t *testing.T) {
	tests := []struct {
		name string
		n    int
		o    HeatsOptions
		rule string
	}{
		{"one entry", 1, HeatsOptions{Lanes: 4}, "entries"},
		{"one lane", 8, HeatsOptions{Lanes: 1}, "lanes"},
		{"too few heats", 8, HeatsOptions{Lanes: 3, Heats: 2}, "heats"},
		{"unknown order", 8, HeatsOptions{Lanes: 3, Order: "spiral"}, "order"},
		{"more go on than there are", 8, HeatsOptions{Lanes: 4, Advance: 5}, "advance"},
		{"as many go on as ran", 8, HeatsOptions{Lanes: 4, Advance: 4}, "advance"},
		{"next best alone", 8, HeatsOptions{Lanes: 4, NextBest: 2}, "next-best"},
		{"siblings and one heat", 4, HeatsOptions{Lanes: 4, Heats: 1, Cars: []int{1, 1, -1, -1}}, "one-car"},
		{"negative", 8, HeatsOptions{Lanes: 4, Advance: -1}, "advance"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Heats(tt.n, tt.o)
			var refusal *Refusal
			if !errors.As(err, &refusal) || refusal.Rule != tt.rule {
				t.Errorf("got %v, want a refusal by the rule %q", err, tt.rule)
			}
		})
	}
}
