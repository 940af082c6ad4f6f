package battery_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/battery"
	"benchmeet/domain/refusal"
)

const minute = 60 * 1_000_000

func TestPackReady(t *testing.T) {
	checked := battery.Pack{ID: "7"}.Checked(good())
	at := good().AtUS
	tests := []struct {
		name       string
		pack       battery.Pack
		now, since int64
		codes      []refusal.Code
		says       string
	}{
		{"checked", checked, at, 0, nil, ""},
		{"never checked", battery.Pack{ID: "7"}, at, 0, []refusal.Code{"pack-unchecked"}, "battery table"},
		{"at the end of its time", checked, at + 120*minute, 0, nil, ""},
		{"beyond", checked, at + 121*minute, 0, []refusal.Code{"pack-old-check"}, "(121 min; it counts for 120 min)"},
		{"the meet was paused since", checked, at + minute, at + 1, []refusal.Code{"pack-paused"}, ""},
		{"dated later", checked, at - 1, 0, []refusal.Code{"pack-future"}, "set the clock right"},
		{
			"just raced", checked.Ran(battery.PackRun{FromUS: at, ToUS: at + minute}), at + 2*minute, 0,
			[]refusal.Code{"pack-tired"},
			"a rest of 4 min more",
		},
		{"rested", checked.Ran(battery.PackRun{FromUS: at, ToUS: at + minute}), at + 6*minute, 0, nil, ""},
		{
			"the last check counts", checked.Checked(func() battery.Reading { r := good(); r.OpenMV = 100; r.LoadMV = mv(50); return r }()), at, 0,
			[]refusal.Code{"pack-open-low", "pack-load-low"},
			"",
		},
		{
			"hurt once is out", checked.Checked(battery.Reading{AtUS: at, Hurt: true}).Checked(good()), at, 0,
			[]refusal.Code{"pack-aside"},
			"take another one",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := tt.pack.Ready(two(), tt.now, tt.since)
			if diff := cmp.Diff(tt.codes, codes(got)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			if tt.says != "" {
				contains(t, got[0].Error(), tt.says)
			}
		})
	}
	if len(checked.Checks) != 1 || len(checked.Runs) != 0 || checked.Aside {
		t.Errorf("the pack that others were made from has changed: %+v", checked)
	}
}

func TestPackLending(t *testing.T) {
	p, err := battery.Pack{ID: "7", Lent: true}.Issue(12)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]battery.Pack{p}, battery.Missing([]battery.Pack{{ID: "6", Lent: true}, p, {ID: "own", With: 3}})); diff != "" {
		t.Errorf("missing (-want +got)\n%s", diff)
	}
	if _, err := p.Issue(13); err == nil || err.Error() != "Pack 7 is with start number 12: take it back first." {
		t.Errorf("issued twice: %v", err)
	}
	back, err := p.Return(true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := back.Issue(13); err == nil {
		t.Error("a pack that came back hot was issued again")
	}
	if _, err := back.Return(false); err == nil {
		t.Error("a pack came back twice")
	}
}

// figures makes packs from pairs of voltage and resistance, numbered from 1.
func figures(pairs ...[2]int64) []battery.PackFigures {
	var out []battery.PackFigures
	for i, p := range pairs {
		out = append(out, battery.PackFigures{ID: fmt.Sprint(i + 1), EMFMV: p[0], MOhm: p[1]})
	}
	return out
}

func ids(sets ...[]battery.PackFigures) [][]string {
	out := [][]string{}
	for _, set := range sets {
		var one []string
		for _, p := range set {
			one = append(one, p.ID)
		}
		out = append(out, one)
	}
	return out
}

func TestMatchPacks(t *testing.T) {
	m := battery.Matching{Size: 2, RaceMA: 1000, SpreadMV: 30, SpreadMOhm: 60}
	tests := []struct {
		name  string
		packs []battery.PackFigures
		sets  [][]string
		left  []string
	}{
		{"none", nil, [][]string{}, nil},
		{"two alike", figures([2]int64{3200, 400}, [2]int64{3190, 410}), [][]string{{"1", "2"}}, nil},
		{"two that are not", figures([2]int64{3200, 400}, [2]int64{3100, 400}), [][]string{}, []string{"1", "2"}},
		// 3200 and 400 give under load what 3300 and 500 give; the resistance parts them.
		{"alike under load only", figures([2]int64{3200, 400}, [2]int64{3300, 500}), [][]string{}, []string{"1", "2"}},
		{
			"one too many, the nearest two", figures([2]int64{3200, 400}, [2]int64{3180, 400}, [2]int64{3175, 400}),
			[][]string{{"2", "3"}},
			[]string{"1"},
		},
		{
			"more sets go before nearer ones", figures([2]int64{3230, 400}, [2]int64{3205, 400}, [2]int64{3200, 400}, [2]int64{3175, 400}),
			[][]string{{"1", "2"}, {"3", "4"}},
			nil,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			sets, left, err := battery.MatchPacks(tt.packs, m)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.sets, ids(sets...)); diff != "" {
				t.Errorf("sets (-want +got)\n%s", diff)
			}
			if diff := cmp.Diff(tt.left, ids(left)[0]); diff != "" {
				t.Errorf("left (-want +got)\n%s", diff)
			}
		})
	}
	if _, _, err := battery.MatchPacks([]battery.PackFigures{{ID: "1"}, {ID: "1"}}, m); err == nil {
		t.Error("a pack stands twice in a list")
	}
	if _, _, err := battery.MatchPacks(nil, battery.Matching{}); err == nil {
		t.Error("sets of no packs")
	}
}

// Every pack is in one set or left over, every set is like, and the order in which
// packs come does not matter.
func TestMatchPacksProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := battery.Matching{Size: rapid.IntRange(1, 4).Draw(t, "size"), RaceMA: 1000, SpreadMV: 25, SpreadMOhm: 40}
		var packs []battery.PackFigures
		for i := range rapid.IntRange(0, 20).Draw(t, "packs") {
			packs = append(packs, battery.PackFigures{
				ID: fmt.Sprint(i), EMFMV: rapid.Int64Range(3100, 3250).Draw(t, "mV"), MOhm: rapid.Int64Range(380, 450).Draw(t, "mΩ"),
			})
		}
		sets, left, err := battery.MatchPacks(packs, m)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		under := func(p battery.PackFigures) int64 { return p.EMFMV - p.MOhm*m.RaceMA/1000 }
		for _, set := range sets {
			for _, p := range set {
				seen[p.ID]++
				for _, q := range set {
					if under(p)-under(q) > m.SpreadMV || p.MOhm-q.MOhm > m.SpreadMOhm {
						t.Fatalf("%+v and %+v are not alike", p, q)
					}
				}
			}
			if len(set) != m.Size {
				t.Fatalf("a set of %d", len(set))
			}
		}
		for _, p := range left {
			seen[p.ID]++
		}
		for _, p := range packs {
			if seen[p.ID] != 1 {
				t.Fatalf("pack %s stands %d times", p.ID, seen[p.ID])
			}
		}
		shuffled := rapid.Permutation(packs).Draw(t, "another order")
		again, _, err := battery.MatchPacks(shuffled, m)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(ids(sets...), ids(again...)); diff != "" {
			t.Fatalf("another order gives other sets\n%s", diff)
		}
	})
}

func TestDealPacks(t *testing.T) {
	sets := [][]battery.PackFigures{{{ID: "1"}, {ID: "2"}}, {{ID: "3"}, {ID: "4"}}, {{ID: "5"}, {ID: "6"}}}
	heats := [][]string{{"A", "B"}, {"C"}}
	// Frozen: the same seed deals the same for ever, as the lot stands in the log.
	want := [][]battery.Dealt{
		{{Entry: "A", Pack: "4"}, {Entry: "B", Pack: "3"}},
		{{Entry: "C", Pack: "2"}},
	}
	got, err := battery.DealPacks(sets, heats, 42)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for name, heats := range map[string][][]string{
		"four heats":       {{"A"}, {"B"}, {"C"}, {"D"}},
		"a heat too large": {{"A", "B", "C"}},
	} {
		if _, err := battery.DealPacks(sets, heats, 42); err == nil {
			t.Errorf("%s: dealt", name)
		}
	}
}

// Over many seeds every entry gets every pack about as often.
func TestDealPacksIsEven(t *testing.T) {
	sets := [][]battery.PackFigures{{{ID: "1"}, {ID: "2"}}, {{ID: "3"}, {ID: "4"}}}
	count := map[string]int{}
	const deals = 4000
	for seed := range uint64(deals) {
		got, err := battery.DealPacks(sets, [][]string{{"A", "B"}}, seed)
		if err != nil {
			t.Fatal(err)
		}
		count[got[0][0].Pack]++
	}
	for _, id := range []string{"1", "2", "3", "4"} {
		near(t, "how often A gets pack "+id, float64(count[id]), deals/4, 110) // four standard deviations
	}
}
