package fairness_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

func TestJudgePlain(t *testing.T) {
	type judged struct {
		Verdict fairness.Verdict
		Says    string
	}
	quiet := func(name string, mean float64) fairness.Group {
		return fairness.Group{Name: name, Values: []float64{mean - 0.1, mean, mean + 0.1}}
	}
	const looks = "is noisy: its own results scatter more than chance explains. Look at its rollers, sensor and mark before you trust them."
	tests := []struct {
		name   string
		groups []fairness.Group
		want   judged // of the first
		rest   fairness.Verdict
	}{
		{
			"alike",
			[]fairness.Group{quiet("b1", 200), quiet("b2", 200.1), quiet("b3", 199.9), quiet("b4", 200.05)},
			judged{fairness.Agrees, "Bench b1 agrees with the middle of the benches."},
			fairness.Agrees,
		},
		{
			"one high",
			[]fairness.Group{quiet("b1", 206), quiet("b2", 200.1), quiet("b3", 199.9), quiet("b4", 200), quiet("b5", 200.05)},
			judged{fairness.ReadsHigh, "Bench b1 reads 2.4 % above the mean of the benches."},
			fairness.Agrees,
		},
		{
			"one low",
			[]fairness.Group{quiet("b1", 194), quiet("b2", 200.1), quiet("b3", 199.9), quiet("b4", 200), quiet("b5", 200.05)},
			judged{fairness.ReadsLow, "Bench b1 reads 2.4 % below the mean of the benches."},
			fairness.Agrees,
		},
		{
			"one noisy",
			[]fairness.Group{{Name: "b1", Values: []float64{190, 200, 210}}, quiet("b2", 200.1), quiet("b3", 199.9), quiet("b4", 200)},
			judged{fairness.Noisy, "Bench b1 " + looks},
			fairness.Agrees,
		},
		{
			"noisy and high",
			[]fairness.Group{
				{Name: "b1", Values: []float64{230, 240, 250}}, quiet("b2", 200.1), quiet("b3", 199.9), quiet("b4", 200), quiet("b5", 200.02),
			},
			judged{fairness.Noisy, "Bench b1 " + looks + " Bench b1 reads 15 % above the mean of the benches."},
			fairness.Agrees,
		},
		{
			"of two that differ both are named",
			[]fairness.Group{quiet("b1", 201), quiet("b2", 200)},
			judged{fairness.ReadsHigh, "Bench b1 reads 0.25 % above the mean of the benches."},
			fairness.ReadsLow,
		},
		{
			"of two that do not, none",
			[]fairness.Group{quiet("b1", 200.01), quiet("b2", 200)},
			judged{fairness.Agrees, "Bench b1 agrees with the middle of the benches."},
			fairness.Agrees,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, err := fairness.LevelOf(tt.groups)
			if err != nil {
				t.Fatal(err)
			}
			all := l.Judge()
			if diff := cmp.Diff(tt.want, judged{all[0].Verdict, fairness.Join(all[0].Says)}); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			for i, j := range all[1:] {
				if j.Verdict != tt.rest {
					t.Errorf("b%d: got %s, want %s", i+2, j.Verdict, tt.rest)
				}
			}
		})
	}
}

func TestLevelOfCellsRefuses(t *testing.T) {
	tests := []struct {
		name  string
		cells []fairness.Cell
		code  refusal.Code
	}{
		{"nothing", nil, "study-short"},
		{"no values", []fairness.Cell{{Name: "b1", N: 2, Mean: 1}, {Name: "b2"}}, "study-empty"},
		{"no mean", []fairness.Cell{{Name: "b1", N: 2, Mean: math.Inf(1)}}, "study-value"},
		{"a spread below zero", []fairness.Cell{{Name: "b1", N: 2, Mean: 1, SD: -1}}, "study-value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := fairness.LevelOfCells(tt.cells)
			if r, is := refusal.As(err); !is || r.Code != tt.code {
				t.Errorf("got %+v, %v", got, err)
			}
		})
	}
}

// Below the numbers at which a test says something it says nothing.
func TestTooFewForATest(t *testing.T) {
	names := []string{"b1", "b2", "b3", "b4"}
	tests := []struct {
		name string
		got  fairness.Finding
	}{
		{"Grubbs of two", fairness.Grubbs(names, []float64{1, 2}, fairness.Highest, true)},
		{"Grubbs of equal ones", fairness.Grubbs(names, []float64{1, 1, 1}, fairness.Highest, true)},
		{"double Grubbs of three", fairness.DoubleGrubbs(names, []float64{1, 2, 3}, fairness.Lowest)},
		{"double Grubbs of equal ones", fairness.DoubleGrubbs(names, []float64{1, 1, 1, 1}, fairness.Lowest)},
		{"Cochran of one", fairness.Cochran(names, []float64{1}, 3)},
		{"Cochran of single values", fairness.Cochran(names, []float64{1, 2}, 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(fairness.Finding{}, tt.got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
	values := make([]float64, 41)
	values[0], values[1] = 5, 4
	if f := fairness.DoubleGrubbs(make([]string, 41), values, fairness.Highest); f.Word != "" || f.Value > 1 {
		t.Errorf("beyond the table: got %+v", f)
	}
}
