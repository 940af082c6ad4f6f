package fairness_test

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"benchmeet/domain/fairness"
)

// table reads a file of testdata whose first line names its columns.
func table(t *testing.T, path string) map[string][]string {
	t.Helper()
	f, err := os.Open("testdata/" + path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	columns := map[string][]string{}
	for i, name := range rows[0] {
		for _, row := range rows[1:] {
			columns[name] = append(columns[name], row[i])
		}
	}
	return columns
}

// numbers reads a column of decimals, each parsed once from its original text.
func numbers(t *testing.T, column []string) []float64 {
	t.Helper()
	out := make([]float64, len(column))
	for i, text := range column {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		out[i] = v
	}
	return out
}

// groups reads the values of a study by the names in one column, in the order in
// which these appear.
func groups(t *testing.T, path, by, value string) []fairness.Group {
	t.Helper()
	columns := table(t, path)
	var out []fairness.Group
	for i, v := range numbers(t, columns[value]) {
		name := columns[by][i]
		at := slices.IndexFunc(out, func(g fairness.Group) bool { return g.Name == name })
		if at < 0 {
			at, out = len(out), append(out, fairness.Group{Name: name})
		}
		out[at].Values = append(out[at].Values, v)
	}
	return out
}

// cells reads a balanced study as values[outer][inner][trial].
func cells(t *testing.T, path, outer, inner string) [][][]float64 {
	t.Helper()
	columns := table(t, path)
	var out [][][]float64
	lastOuter, lastInner := "", ""
	for i, v := range numbers(t, columns["y"]) {
		o, in := columns[outer][i], columns[inner][i]
		if o != lastOuter {
			out = append(out, nil)
		}
		group := &out[len(out)-1]
		if o != lastOuter || in != lastInner {
			*group = append(*group, nil)
		}
		cell := &(*group)[len(*group)-1]
		*cell = append(*cell, v)
		lastOuter, lastInner = o, in
	}
	return out
}

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	text, err := os.ReadFile("testdata/" + path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatal(err)
	}
}

// worked is a small case of testdata/cases.json; each names its source.
type worked struct {
	ID       string
	Input    json.RawMessage
	Expected json.RawMessage
	Source   string
}

// workedCase reads the input and the expected figures of one case.
func workedCase(t *testing.T, id string, input, expected any) {
	t.Helper()
	var all []worked
	readJSON(t, "cases.json", &all)
	for _, c := range all {
		if c.ID != id {
			continue
		}
		for _, part := range []struct {
			from json.RawMessage
			into any
		}{{c.Input, input}, {c.Expected, expected}} {
			if err := json.Unmarshal(part.from, part.into); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	t.Fatalf("there is no case %s", id)
}

// near complains where a figure is further from the wanted one than tolerance.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g within %g", what, got, want, tolerance)
	}
}

// digits is the log relative error, by which NIST scores: about how many digits
// agree.
func digits(computed, certified float64) float64 {
	if computed == certified {
		return 15
	}
	off := math.Abs(computed - certified)
	if certified != 0 {
		off /= math.Abs(certified)
	}
	return min(15, -math.Log10(off))
}
