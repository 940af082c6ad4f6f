package standings

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
)

func readJSON(t *testing.T, name string, into any) {
	t.Helper()
	b, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, into); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
}

// dec reads a number of testdata exactly.
func dec(t *testing.T, n json.Number) Fraction {
	t.Helper()
	f, err := ParseFraction(n.String())
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// crosstable turns totals against each opponent into results, one game a pair. Win is what a clean sweep gives.
func crosstable(t *testing.T, totals map[string]map[string]json.Number) (entries []PointsEntry, results []Result) {
	t.Helper()
	for a := range totals {
		entries = append(entries, PointsEntry{ID: a})
	}
	slices.SortFunc(entries, func(x, y PointsEntry) int { return strings.Compare(x.ID, y.ID) })
	for i, a := range entries {
		for j, b := range entries[:i] {
			results = append(results, Result{
				Round: i + j, A: a.ID, B: b.ID, APoints: dec(t, totals[a.ID][b.ID]), BPoints: dec(t, totals[b.ID][a.ID]), Played: true,
			})
		}
	}
	return entries, results
}

func rank(t *testing.T, entries []PointsEntry, results []Result, rules PointsRules) []Standing {
	t.Helper()
	rows, err := RankPoints(entries, results, nil, rules)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// values returns a tie-break by entry; points for an empty name.
func values(rows []Standing, name string) map[string]string {
	out := map[string]string{}
	for _, r := range rows {
		if name == "" {
			out[r.Entry] = r.Figure.String()
		}
		for _, v := range r.TieBreaks {
			if v.Name == name && !v.None {
				out[r.Entry] = v.Value.String()
			}
		}
	}
	return out
}

func texts(t *testing.T, numbers map[string]json.Number) map[string]string {
	t.Helper()
	out := map[string]string{}
	for id, n := range numbers {
		out[id] = dec(t, n).String()
	}
	return out
}

func order(rows []Standing) []string {
	var ids []string
	for _, r := range rows {
		ids = append(ids, r.Entry)
	}
	return ids
}
