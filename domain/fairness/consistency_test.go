package fairness_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
)

// Source: formulas of Wilrich, AStA Adv. Stat. Anal. 97 (2013) 1-10, from memory.
func TestCriticalValues(t *testing.T) {
	tests := []struct {
		file    string
		columns []string
		points  func(p, n int) []float64
	}{
		{"mandel-h.csv", []string{"crit_5pct", "crit_1pct"}, func(p, _ int) []float64 {
			return []float64{fairness.CriticalH(p, 0.05), fairness.CriticalH(p, 0.01)}
		}},
		{"mandel-k.csv", []string{"crit_5pct", "crit_1pct"}, func(p, n int) []float64 {
			return []float64{fairness.CriticalK(p, n, 0.05), fairness.CriticalK(p, n, 0.01)}
		}},
		{"cochran.csv", []string{"crit_5pct", "crit_1pct"}, func(p, n int) []float64 {
			return []float64{fairness.CriticalCochran(p, n, 0.05), fairness.CriticalCochran(p, n, 0.01)}
		}},
		{"grubbs-single.csv", []string{"one_sided_5pct", "one_sided_1pct", "two_sided_5pct", "two_sided_1pct"}, func(p, _ int) []float64 {
			return []float64{
				fairness.CriticalGrubbs(p, 0.05, false), fairness.CriticalGrubbs(p, 0.01, false),
				fairness.CriticalGrubbs(p, 0.05, true), fairness.CriticalGrubbs(p, 0.01, true),
			}
		}},
	}
	for _, tt := range tests {
		t.Run(tt.file, func(t *testing.T) {
			columns := table(t, "critical-values/"+tt.file)
			for i := range columns["p"] {
				p, n := whole(t, columns["p"][i]), 0
				if columns["n"] != nil {
					n = whole(t, columns["n"][i])
				}
				for j, got := range tt.points(p, n) {
					want := numbers(t, columns[tt.columns[j]][i:i+1])[0]
					near(t, fmt.Sprintf("p=%d n=%d %s", p, n, tt.columns[j]), got, want, 0.6e-4)
				}
			}
		})
	}
}

// Source: ISO 5725-2:1994, Table 6, read on a metrology web page; it is printed
// to two places and differs from the formulas by up to 0.009.
func TestCriticalValuesAsPrinted(t *testing.T) {
	columns := table(t, "critical-values/mandel-1pct-as-printed.csv")
	for i := range columns["p"] {
		p := whole(t, columns["p"][i])
		near(t, fmt.Sprintf("h p=%d", p), fairness.CriticalH(p, 0.01), numbers(t, columns["h"])[i], 0.01)
		for n := 2; n <= 10; n++ {
			near(t, fmt.Sprintf("k p=%d n=%d", p, n), fairness.CriticalK(p, n, 0.01), numbers(t, columns[fmt.Sprintf("k_n%d", n)])[i], 0.01)
		}
	}
}

func whole(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Source: NIST/SEMATECH e-Handbook, 1.3.5.17.1 (data of Tietjen and Moore 1972,
// from memory; printed G 2.4687, critical 2.032).
func TestGrubbsUranium(t *testing.T) {
	var in struct{ Y []float64 }
	var want struct {
		G        float64
		OneSided float64 `json:"critical_one_sided"`
		TwoSided float64 `json:"critical_two_sided"`
	}
	workedCase(t, "grubbs-uranium", &in, &want)
	names := make([]string, len(in.Y))
	for i := range names {
		names[i] = fmt.Sprint(i + 1)
	}
	one, two := fairness.Grubbs(names, in.Y, fairness.Highest, false), fairness.Grubbs(names, in.Y, fairness.Highest, true)
	near(t, "G", one.Value, want.G, 1e-9)
	near(t, "one-sided", one.Critical5, want.OneSided, 1e-4)
	near(t, "two-sided", two.Critical5, want.TwoSided, 1e-4)
	if one.Word != fairness.Outlier || !slices.Equal(one.Who, []string{"8"}) {
		t.Errorf("got %s for %v", one.Word, one.Who)
	}
	if low := fairness.Grubbs(names, in.Y, fairness.Lowest, true); low.Word != fairness.Fits || low.Who[0] != "1" {
		t.Errorf("low end: got %+v", low)
	}
}

// Source: ISO 5725-2:1994, 7.3.3 (the rule); computed from the formula.
func TestCochranSixBenches(t *testing.T) {
	var in struct {
		Variances []float64
		N         int
	}
	var want struct {
		C, Crit5, Crit1 float64
		Verdict         fairness.Word
	}
	workedCase(t, "cochran-six-benches", &in, &want)
	got := fairness.Cochran([]string{"b1", "b2", "b3", "b4", "b5", "b6"}, in.Variances, in.N)
	near(t, "C", got.Value, want.C, 1e-9)
	near(t, "5 %", got.Critical5, want.Crit5, 1e-4)
	near(t, "1 %", got.Critical1, want.Crit1, 1e-4)
	if diff := cmp.Diff(
		fairness.Finding{Who: []string{"b4"}, Word: want.Verdict}, fairness.Finding{Who: got.Who, Word: got.Word},
	); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// The table of double Grubbs is from memory (ISO 5725-2:1994, Table 5), so
// simulated lists check it: where either end may be looked at, one end falls
// below the points in 2.5 % and in 0.5 % of the lists.
func TestDoubleGrubbsPoints(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	names := make([]string, 40)
	for _, p := range []int{6, 8, 12, 20, 40} {
		const lists = 6000
		var below5, below1 int
		values := make([]float64, p)
		for range lists {
			for i := range values {
				values[i] = random.NormFloat64()
			}
			f := fairness.DoubleGrubbs(names[:p], values, fairness.Highest)
			if f.Value < f.Critical5 {
				below5++
			}
			if f.Value < f.Critical1 {
				below1++
			}
		}
		// Four standard deviations of a count.
		near(t, fmt.Sprintf("5 %% point of %d", p), float64(below5)/lists, 0.025, 0.008)
		near(t, fmt.Sprintf("1 %% point of %d", p), float64(below1)/lists, 0.005, 0.0037)
	}
}

func TestDoubleGrubbsFindsAPairThatHides(t *testing.T) {
	names := []string{"b1", "b2", "b3", "b4", "b5", "b6", "b7", "b8"}
	values := []float64{10, 10.1, 9.9, 10.05, 12, 9.95, 12.1, 10.02}
	if single := fairness.Grubbs(names, values, fairness.Highest, true); single.Word != fairness.Fits {
		t.Errorf("alone the highest is %s: the example does not hide", single.Word)
	}
	got := fairness.DoubleGrubbs(names, values, fairness.Highest)
	if got.Word != fairness.Outlier || !slices.Equal(got.Who, []string{"b7", "b5"}) {
		t.Errorf("got %+v", got)
	}
}
