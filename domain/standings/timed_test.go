package standings

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// runs makes the runs of rounds 1, 2, ...; a negative value is no run.
func runs(values ...int64) []Run {
	var out []Run
	for i, v := range values {
		if v < 0 {
			out = append(out, Run{Round: i + 1, None: true})
			continue
		}
		out = append(out, Run{Round: i + 1, Value: v})
	}
	return out
}

// brief writes a ranking in short: rank, entry, what decided.
func brief(rows []Standing) []string {
	var lines []string
	for _, r := range rows {
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%d %s %s", r.Rank, r.Entry, r.DecidedBy)))
	}
	return lines
}

func TestRankTimed(t *testing.T) {
	tests := []struct {
		name    string
		rules   TimedRules
		entries []TimedEntry
		want    []string
	}{
		{
			"best distance, equal ranks 1 2 2 4",
			TimedRules{Better: More, Rule: Best},
			[]TimedEntry{{ID: "A", Runs: runs(70)}, {ID: "B", Runs: runs(80)}, {ID: "C", Runs: runs(60, 80)}, {ID: "D", Runs: runs(90)}},
			[]string{"1 D result", "2 B shared", "2 C shared", "4 A result"},
		},
		{
			"best time",
			TimedRules{Better: Less, Rule: Best},
			[]TimedEntry{{ID: "A", Runs: runs(70, 50)}, {ID: "B", Runs: runs(55, -1)}},
			[]string{"1 A result", "2 B result"},
		},
		{
			"next best run breaks the tie, a run beats none",
			TimedRules{Better: More, Rule: Best, TieBreaks: []string{NextBest}},
			[]TimedEntry{{ID: "A", Runs: runs(80, -1)}, {ID: "B", Runs: runs(80, 70)}, {ID: "C", Runs: runs(75, 80)}},
			[]string{"1 C next-best", "2 B next-best", "3 A next-best"},
		},
		{
			"the latest run breaks the tie",
			TimedRules{Better: Less, Rule: Best, TieBreaks: []string{Latest}},
			[]TimedEntry{{ID: "A", Runs: runs(50, 80)}, {ID: "B", Runs: runs(70, 50)}, {ID: "C", Runs: runs(50, -1, 90)}},
			[]string{"1 C latest", "2 B latest", "3 A latest"},
		},
		{
			"a mean of thirds is exact: 100/3 is less than 33.34",
			TimedRules{Better: Less, Rule: Mean},
			[]TimedEntry{{ID: "A", Runs: runs(3334, 3334, 3334)}, {ID: "B", Runs: runs(3333, 3333, 3334)}, {ID: "C", Runs: runs(3334, 3333, 3333)}},
			[]string{"1 B shared", "1 C shared", "3 A result"},
		},
		{
			"a sum of two does not beat a sum of three",
			TimedRules{Better: Less, Rule: Sum},
			[]TimedEntry{{ID: "A", Runs: runs(10, 10)}, {ID: "B", Runs: runs(20, 20, 20)}},
			[]string{"1 B runs", "2 A runs"},
		},
		{
			"median of an even number is the middle of the two",
			TimedRules{Better: More, Rule: Median},
			[]TimedEntry{{ID: "A", Runs: runs(1, 4, 7, 100)}, {ID: "B", Runs: runs(5, 6, 6, 0)}},
			[]string{"1 A shared", "1 B shared"},
		},
		{
			"best two of three",
			TimedRules{Better: More, Rule: BestTwo, TieBreaks: []string{"best"}},
			[]TimedEntry{{ID: "A", Runs: runs(80, 60, 0)}, {ID: "B", Runs: runs(70, 70, 69)}, {ID: "C", Runs: runs(99)}},
			[]string{"1 A best", "2 B best", "3 C runs"},
		},
		{
			"statuses by default",
			TimedRules{Better: More, Rule: Best},
			[]TimedEntry{
				{ID: "A", Status: Disqualified, Runs: runs(99)},
				{ID: "B", Status: Withdrawn, Runs: runs(80)},
				{ID: "C", Runs: runs(70)},
				{ID: "D", Status: DidNotFinish, Runs: runs(-1)},
				{ID: "E"},
				{ID: "F", Status: DidNotFinish, Runs: runs(-1, 75)},
			},
			[]string{"1 B result", "2 C result", "3 F runs", "4 D runs", "0 E", "0 A"},
		},
		{
			"statuses by the programme's rules",
			TimedRules{Better: More, Rule: Best, Statuses: StatusRules{DidNotStart: Last, Disqualified: Last, Withdrawn: Unranked}},
			[]TimedEntry{
				{ID: "A", Status: Disqualified, Runs: runs(99)}, {ID: "B", Status: Withdrawn, Runs: runs(80)}, {ID: "C", Runs: runs(70)}, {ID: "E"},
			},
			[]string{"1 C status", "2 A runs", "3 E runs", "0 B"},
		},
		{"nobody", TimedRules{Better: More, Rule: Best}, nil, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := RankTimed(tt.entries, tt.rules)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, brief(got)); diff != "" {
				t.Errorf("ranking (-want +got):\n%s", diff)
			}
		})
	}
}

// Two-sided normal quantiles 1.959964 and 2.575829: tables of the normal distribution, from memory.
func TestQuantile(t *testing.T) {
	for confidence, want := range map[int]int64{950: 1959964, 990: 2575829, 500: 674490} {
		if got := (&Closeness{Confidence: confidence}).Quantile(); got != want {
			t.Errorf("quantile at %d/1000 = %d millionths, want %d", confidence, got, want)
		}
	}
}

func TestTooClose(t *testing.T) {
	// The uncertainty of a difference is 10 x sqrt(2): at 95 % results within 27.7 are too close.
	entries := []TimedEntry{
		{ID: "A", Runs: []Run{{Round: 1, Value: 1000, U: 10}}},
		{ID: "B", Runs: []Run{{Round: 1, Value: 973, U: 10}}},
		{ID: "C", Runs: []Run{{Round: 1, Value: 945, U: 10}}},
		{ID: "D", Runs: []Run{{Round: 1, Value: 944, U: 10}}},
		{ID: "E", Status: Disqualified, Runs: []Run{{Round: 1, Value: 1000, U: 10}}},
	}
	tests := []struct {
		name string
		c    Closeness
		want map[string][]string
	}{
		{"everywhere", Closeness{Confidence: 950}, map[string][]string{"A": {"B"}, "B": {"A"}, "C": {"D"}, "D": {"C"}, "E": nil}},
		{
			"at the prize line after row 1",
			Closeness{Confidence: 950, Lines: []int{1}},
			map[string][]string{"A": {"B"}, "B": {"A"}, "C": nil, "D": nil, "E": nil},
		},
		{
			"at 99.9 %",
			Closeness{Confidence: 999, Lines: []int{2}},
			map[string][]string{"A": nil, "B": {"C", "D"}, "C": {"B"}, "D": {"B"}, "E": nil},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, err := RankTimed(entries, TimedRules{Better: More, Rule: Best, Close: &tt.c})
			if err != nil {
				t.Fatal(err)
			}
			got := map[string][]string{}
			for _, r := range rows {
				got[r.Entry] = r.TooCloseTo
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("too close (-want +got):\n%s", diff)
			}
		})
	}
}

// The mean of four equal uncertainties is half as uncertain: 10 x sqrt(2) / 2 x 1.96 = 13.9.
func TestMeanIsLessUncertain(t *testing.T) {
	four := func(v int64) []Run {
		var out []Run
		for round := range 4 {
			out = append(out, Run{Round: round + 1, Value: v, U: 10})
		}
		return out
	}
	for difference, want := range map[int64]int{13: 1, 14: 0} {
		rows, err := RankTimed(
			[]TimedEntry{{ID: "A", Runs: four(500)}, {ID: "B", Runs: four(500 - difference)}},
			TimedRules{Better: More, Rule: Mean, Close: &Closeness{Confidence: 950}},
		)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(rows[0].TooCloseTo); got != want {
			t.Errorf("difference %d: too close to %d, want %d", difference, got, want)
		}
	}
}

// The order of the input does not matter, ranks are those of counting who is before, and equal ranks are listed
// by id.
func TestRankTimedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "n")
		var entries []TimedEntry
		for i := range n {
			e := TimedEntry{ID: fmt.Sprintf("E%02d", i)}
			e.Status = rapid.SampledFrom([]Status{"", "", "", Withdrawn, Disqualified, DidNotFinish}).Draw(t, "status")
			e.Runs = runs(rapid.SliceOfN(rapid.Int64Range(-1, 4), 0, 4).Draw(t, "runs")...)
			entries = append(entries, e)
		}
		rules := TimedRules{
			Better:    rapid.SampledFrom([]Better{More, Less}).Draw(t, "better"),
			Rule:      rapid.SampledFrom([]Rule{Best, Mean, Median, Sum, BestTwo}).Draw(t, "rule"),
			TieBreaks: rapid.SliceOfN(rapid.SampledFrom([]string{NextBest, Latest, "mean", "best"}), 0, 3).Draw(t, "tie-breaks"),
			Close:     &Closeness{Confidence: 950},
		}
		want, err := RankTimed(entries, rules)
		if err != nil {
			t.Fatal(err)
		}
		shuffled := rapid.Permutation(entries).Draw(t, "order")
		got, err := RankTimed(shuffled, rules)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("the order of the input matters (-want +got):\n%s", diff)
		}
		for i, row := range got {
			if row.Rank == 0 {
				if slices.ContainsFunc(got[i:], func(r Standing) bool { return r.Rank != 0 }) {
					t.Fatalf("an unranked row stands before a ranked one: %v", brief(got))
				}
				continue
			}
			if i > 0 && got[i-1].Rank == row.Rank {
				if got[i-1].Entry >= row.Entry || row.DecidedBy != Shared {
					t.Fatalf("equal ranks out of order: %v", brief(got))
				}
			} else if row.Rank != i+1 {
				t.Fatalf("row %d has rank %d: %v", i+1, row.Rank, brief(got))
			}
		}
	})
}

func TestRankTimedRefuses(t *testing.T) {
	good := TimedRules{Better: More, Rule: Best}
	tests := []struct {
		name    string
		entries []TimedEntry
		change  func(*TimedRules)
		says    string
	}{
		{"no id", []TimedEntry{{}}, nil, "an entry has no id"},
		{"an entry twice", []TimedEntry{{ID: "A"}, {ID: "A"}}, nil, "entry A is listed twice"},
		{"two runs in a round", []TimedEntry{{ID: "A", Runs: []Run{{Round: 1}, {Round: 1}}}}, nil, "entry A has two runs in round 1"},
		{"round 0", []TimedEntry{{ID: "A", Runs: []Run{{Round: 0}}}}, nil, "entry A has a run in round 0"},
		{"negative value", []TimedEntry{{ID: "A", Runs: []Run{{Round: 1, Value: -1}}}}, nil, "entry A has a value"},
		{"too large", []TimedEntry{{ID: "A", Runs: []Run{{Round: 1, Value: MaxValue + 1}}}}, nil, "entry A has a value"},
		{"unknown status", []TimedEntry{{ID: "A", Status: "lost"}}, nil, `entry A has the status "lost"`},
		{"unknown better", nil, func(r *TimedRules) { r.Better = "most" }, `not "most"`},
		{"unknown rule", nil, func(r *TimedRules) { r.Rule = "mode" }, `not "mode"`},
		{"unknown tie-break", nil, func(r *TimedRules) { r.TieBreaks = []string{"age"} }, `tie-break "age"`},
		{"unknown status rule", nil, func(r *TimedRules) { r.Statuses.Withdrawn = "first" }, `not "first"`},
		{"confidence of 1", nil, func(r *TimedRules) { r.Close = &Closeness{Confidence: 1000} }, "confidence"},
		{"line before the first row", nil, func(r *TimedRules) { r.Close = &Closeness{Confidence: 950, Lines: []int{0}} }, "after row 0"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rules := good
			if tt.change != nil {
				tt.change(&rules)
			}
			rows, err := RankTimed(tt.entries, rules)
			if rows != nil || err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %v, %v; want a refusal that says %q", rows, err, tt.says)
			}
		})
	}
}
