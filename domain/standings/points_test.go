package standings

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// UEFA EURO 2012 group A and EURO 2004 group C, results from memory.
func TestGroupCriteria(t *testing.T) {
	type group struct {
		Matches  [][]any  `json:"matches"`
		HeadHead []string `json:"expected_head_to_head_first"`
		GoalDiff []string `json:"expected_goal_difference_first"`
		Expected []string `json:"expected"`
	}
	var file struct {
		A group `json:"euro2012_A"`
		C group `json:"euro2004_C"`
	}
	readJSON(t, "group_criteria.json", &file)
	tests := []struct {
		name      string
		group     group
		tieBreaks []string
		want      []string
	}{
		{"2012 A, head to head first", file.A, []string{HeadToHead, Difference, Scored}, file.A.HeadHead},
		{"2012 A, difference first", file.A, []string{Difference, Scored, HeadToHead}, file.A.GoalDiff},
		{"2004 C, three level", file.C, []string{HeadToHead, Difference, Scored}, file.C.Expected},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var entries []PointsEntry
			var results []Result
			seen := map[string]bool{}
			for i, m := range tt.group.Matches {
				a, b := m[0].(string), m[1].(string)
				r := Result{Round: i + 1, A: a, B: b, AScore: Whole(int64(m[2].(float64))), BScore: Whole(int64(m[3].(float64))), Played: true}
				switch r.AScore.Cmp(r.BScore) {
				case 1:
					r.APoints = Whole(3)
				case -1:
					r.BPoints = Whole(3)
				default:
					r.APoints, r.BPoints = Whole(1), Whole(1)
				}
				results = append(results, r)
				for _, id := range []string{a, b} {
					if !seen[id] {
						entries = append(entries, PointsEntry{ID: id})
						seen[id] = true
					}
				}
			}
			rows := rank(t, entries, results, PointsRules{
				Scoring: Scoring{Win: Whole(3), Draw: Whole(1), Bye: Whole(3)}, Unplayed: AsPlayed, TieBreaks: tt.tieBreaks,
			})
			if diff := cmp.Diff(tt.want, order(rows)); diff != "" {
				t.Errorf("ranking (-want +got):\n%s", diff)
			}
		})
	}
}

// Conventions of ranking (encyclopaedia article, from memory): the standard one, 1 2 2 4.
func TestSharedRanks(t *testing.T) {
	var file struct {
		Cases []struct {
			Scores   []int64 `json:"scores"`
			Standard []int   `json:"standard"`
		} `json:"cases"`
	}
	readJSON(t, "ranking.json", &file)
	for _, c := range file.Cases {
		var entries []TimedEntry
		for i, s := range c.Scores {
			entries = append(entries, TimedEntry{ID: fmt.Sprint(i), Runs: runs(s)})
		}
		rows, err := RankTimed(entries, TimedRules{Better: More, Rule: Best})
		if err != nil {
			t.Fatal(err)
		}
		var got []int
		for _, r := range rows {
			got = append(got, r.Rank)
		}
		if diff := cmp.Diff(c.Standard, got); diff != "" {
			t.Errorf("%v (-want +got):\n%s", c.Scores, diff)
		}
	}
}

func TestHeatsOfMany(t *testing.T) {
	heat := func(round int, places ...string) HeatResult {
		h := HeatResult{Round: round}
		for i, id := range places {
			h.Places = append(h.Places, Place{Entry: id, Place: i + 1})
		}
		return h
	}
	entries := []PointsEntry{{ID: "A"}, {ID: "B"}, {ID: "C"}, {ID: "D"}}
	rules := PointsRules{
		Scoring: Scoring{Win: Whole(1), ByPlace: []Fraction{Whole(5), Whole(3), Whole(2), Whole(1)}}, TieBreaks: []string{Countback},
	}
	last := heat(3, "C", "B", "A")
	last.Places = append(last.Places, Place{Entry: "D"}) // It did not start.
	rows, err := RankPoints(entries, nil, []HeatResult{heat(1, "A", "B", "C", "D"), heat(2, "D", "B", "A", "C"), last}, rules)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]string{"1 A countback", "2 B countback", "3 C points", "4 D points"}, brief(rows)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(map[string]string{"A": "9", "B": "9", "C": "8", "D": "6"}, values(rows, "")); diff != "" {
		t.Errorf("points (-want +got):\n%s", diff)
	}
}

// Equals take the places after each other and share what they are worth, so that a heat gives the same in all.
func TestSharedPlaces(t *testing.T) {
	byPlace := []Fraction{Whole(10), Whole(8), Whole(6), Whole(5)}
	tests := []struct {
		name   string
		share  bool
		places []int
		want   []string
	}{
		{"none level", true, []int{1, 2, 3, 4}, []string{"10", "8", "6", "5"}},
		{"two level", true, []int{1, 2, 2, 4}, []string{"10", "7", "7", "5"}},
		{"half points", true, []int{1, 2, 3, 3}, []string{"10", "8", "5.5", "5.5"}},
		{"thirds", true, []int{1, 2, 2, 2}, []string{"10", "19/3", "19/3", "19/3"}},
		{"beyond the points", true, []int{1, 2, 3, 4, 4, 0}, []string{"10", "8", "6", "2.5", "2.5", "0"}},
		{"each as the place says", false, []int{1, 2, 2, 4}, []string{"10", "8", "8", "5"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var entries []PointsEntry
			h := HeatResult{Round: 1}
			for i, place := range test.places {
				id := string(rune('A' + i))
				entries = append(entries, PointsEntry{ID: id})
				h.Places = append(h.Places, Place{id, place})
			}
			rows, err := RankPoints(entries, nil, []HeatResult{h}, PointsRules{Scoring: Scoring{ByPlace: byPlace, SharePlaces: test.share}})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, r := range rows {
				got = append(got, r.Figure.String())
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("points (-want +got):\n%s", diff)
			}
		})
	}
}

// A dumb version of Buchholz and Sonneborn-Berger for competitions where everybody plays every round, and the order
// of the input does not matter.
func TestPointsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pairs := rapid.IntRange(1, 4).Draw(t, "pairs")
		rounds := rapid.IntRange(1, 5).Draw(t, "rounds")
		var entries []PointsEntry
		for i := range 2 * pairs {
			entries = append(entries, PointsEntry{ID: fmt.Sprintf("E%d", i)})
		}
		var results []Result
		points := map[string]int64{} // in halves
		type meeting struct {
			opponent string
			halves   int64
		}
		met := map[string][]meeting{}
		for r := 1; r <= rounds; r++ {
			ids := rapid.Permutation(entries).Draw(t, "pairing")
			for i := 0; i < len(ids); i += 2 {
				halves := rapid.Int64Range(0, 2).Draw(t, "points")
				a, b := ids[i].ID, ids[i+1].ID
				results = append(results, Result{Round: r, A: a, B: b, APoints: Half(halves), BPoints: Half(2 - halves), Played: true})
				points[a] += halves
				points[b] += 2 - halves
				met[a] = append(met[a], meeting{b, halves})
				met[b] = append(met[b], meeting{a, 2 - halves})
			}
		}
		tieBreaks := []string{Direct, HeadToHead, Buchholz, SonnebornBerger, Koya, Progressive}
		for _, unplayed := range []Unplayed{Unplayed2023, UnplayedBefore2023, AsPlayed} {
			rules := PointsRules{Unplayed: unplayed, TieBreaks: tieBreaks}
			rows, err := RankPoints(entries, results, nil, rules)
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range rows {
				var buchholz, sb int64
				for _, m := range met[row.Entry] {
					buchholz += points[m.opponent]
					sb += points[m.opponent] * m.halves
				}
				got := []Fraction{row.Figure, row.TieBreaks[2].Value, row.TieBreaks[3].Value}
				want := []Fraction{Half(points[row.Entry]), Half(buchholz), Ratio(sb, 4)}
				if diff := cmp.Diff(want, got); diff != "" {
					t.Fatalf("%s, %s: points, Buchholz, Sonneborn-Berger (-want +got):\n%s", unplayed, row.Entry, diff)
				}
			}
			again, err := RankPoints(rapid.Permutation(entries).Draw(t, "entries"), rapid.Permutation(results).Draw(t, "results"), nil, rules)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(rows, again); diff != "" {
				t.Fatalf("the order of the input matters (-want +got):\n%s", diff)
			}
		}
	})
}

func TestRankPointsRefuses(t *testing.T) {
	two := []PointsEntry{{ID: "A"}, {ID: "B"}}
	tests := []struct {
		name    string
		entries []PointsEntry
		results []Result
		heats   []HeatResult
		rules   PointsRules
		says    string
	}{
		{"an entry twice", []PointsEntry{{ID: "A"}, {ID: "A"}}, nil, nil, PointsRules{}, "entry A is listed twice"},
		{"a stranger", two, []Result{{Round: 1, A: "A", B: "Z"}}, nil, PointsRules{}, `entry "Z"`},
		{"a stranger first", two, []Result{{Round: 1, A: "Z", B: "A"}}, nil, PointsRules{}, `entry "Z"`},
		{"itself", two, []Result{{Round: 1, A: "A", B: "A"}}, nil, PointsRules{}, "entry A against itself"},
		{"round 0", two, []Result{{Round: 0, A: "A", B: "B"}}, nil, PointsRules{}, "round 0"},
		{"beyond the last round", two, []Result{{Round: 3, A: "A", B: "B"}}, nil, PointsRules{Rounds: 2}, "round 3"},
		{
			"two results in a round", two,
			[]Result{{Round: 1, A: "A", B: "B"}, {Round: 1, A: "A"}},
			nil,
			PointsRules{},
			"entry A has two results in round 1",
		},
		{"a stranger among many", two, nil, []HeatResult{{Round: 1, Places: []Place{{"Z", 1}}}}, PointsRules{}, `entry "Z"`},
		{"a place beyond the heat", two, nil, []HeatResult{{Round: 1, Places: []Place{{"A", 2}}}}, PointsRules{}, "entry A has place 2"},
		{"unknown tie-break", two, nil, nil, PointsRules{TieBreaks: []string{"age"}}, `"age"`},
		{"unknown edition", two, nil, nil, PointsRules{Unplayed: "1999"}, `"1999"`},
		{"a win worth nothing", two, nil, nil, PointsRules{Scoring: Scoring{Draw: Whole(1)}}, "more than 0"},
		{"a draw worth more than a win", two, nil, nil, PointsRules{Scoring: Scoring{Win: Whole(1), Draw: Whole(2)}}, "a draw"},
		{"no rating", two, nil, nil, PointsRules{TieBreaks: []string{AverageRating}}, "rating of entry A"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, err := RankPoints(tt.entries, tt.results, tt.heats, tt.rules)
			if rows != nil || err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, %v; want a refusal that says %q", rows, err, tt.says)
			}
		})
	}
}
