package fairness_test

import (
	"encoding/json"
	"strconv"
	"testing"

	"benchmeet/domain/fairness"
)

// certified are the values of the NIST Statistical Reference Datasets.
type certified struct {
	Mean       json.Number `json:"mean"`
	SD         json.Number `json:"sd_n_minus_1"`
	Lag1       json.Number `json:"lag1_autocorrelation"`
	F          json.Number `json:"F"`
	BetweenSS  json.Number `json:"between_ss"`
	WithinSS   json.Number `json:"within_ss"`
	ResidualSD json.Number `json:"residual_sd"`
	RSquared   json.Number `json:"r_squared"`
	Coef       map[string]struct {
		Estimate, SD json.Number
	} `json:"coef"`
}

// checkDigits complains where fewer digits agree than a pass mark asks for.
func checkDigits(t *testing.T, what string, computed float64, want json.Number, pass float64) {
	t.Helper()
	certified, err := strconv.ParseFloat(want.String(), 64)
	if err != nil {
		t.Fatal(err)
	}
	got := digits(computed, certified)
	if got < pass {
		t.Errorf("%s: %.17g agrees with %s to %.1f digits, want %.1f", what, computed, want, got, pass)
	}
	t.Logf("%s: %.1f digits", what, got)
}

func readCertified(t *testing.T) map[string]certified {
	t.Helper()
	all := map[string]certified{}
	readJSON(t, "nist-strd/certified.json", &all)
	return all
}

// The pass marks lie a digit below what doubles can reach with these sets, whose
// constant leading digits cost the rest: reading the decimals loses them.
// Source: NIST StRD, univariate summary statistics.
func TestSummariseNIST(t *testing.T) {
	all := readCertified(t)
	tests := []struct {
		set            string
		mean, sd, lag1 float64
	}{
		{"Michelso", 14, 12.8, 12},
		{"NumAcc1", 14, 14, 14},
		{"NumAcc2", 14, 13, 13},
		{"NumAcc3", 14, 8.5, 8.5},
		{"NumAcc4", 14, 7.3, 7.3},
	}
	for _, tt := range tests {
		t.Run(tt.set, func(t *testing.T) {
			s := fairness.Summarise(numbers(t, table(t, "nist-strd/"+tt.set+".csv")["y"]))
			want := all[tt.set]
			checkDigits(t, "mean", s.Mean, want.Mean, tt.mean)
			checkDigits(t, "standard deviation", s.SD, want.SD, tt.sd)
			checkDigits(t, "autocorrelation", s.Lag1, want.Lag1, tt.lag1)
		})
	}
}

// Source: NIST StRD, analysis of variance.
func TestLevelNIST(t *testing.T) {
	all := readCertified(t)
	tests := []struct {
		set     string
		f, pass float64
	}{
		{"SiRstv", 12.2, 12}, {"AtmWtAg", 7.8, 7.8}, {"SmLs01", 13.9, 13.9}, {"SmLs04", 8.3, 8.3}, {"SmLs07", 2, 2},
	}
	for _, tt := range tests {
		t.Run(tt.set, func(t *testing.T) {
			l, err := fairness.LevelOf(groups(t, "nist-strd/"+tt.set+".csv", "group", "y"))
			if err != nil {
				t.Fatal(err)
			}
			want := all[tt.set]
			checkDigits(t, "F", l.F, want.F, tt.f)
			checkDigits(t, "between", l.SquaresBetween, want.BetweenSS, tt.pass)
			checkDigits(t, "within", l.SquaresWithin, want.WithinSS, tt.pass)
			checkDigits(t, "residual standard deviation", l.Repeatability, want.ResidualSD, tt.pass)
		})
	}
}

// Source: NIST StRD, linear regression.
func TestFitLineNIST(t *testing.T) {
	columns := table(t, "nist-strd/Norris.csv")
	l, err := fairness.FitLine(numbers(t, columns["x"]), numbers(t, columns["y"]))
	if err != nil {
		t.Fatal(err)
	}
	want := readCertified(t)["Norris"]
	checkDigits(t, "B0", l.At0, want.Coef["B0"].Estimate, 11)
	checkDigits(t, "B1", l.Slope, want.Coef["B1"].Estimate, 12)
	checkDigits(t, "sd of B0", l.UAt0, want.Coef["B0"].SD, 11)
	checkDigits(t, "sd of B1", l.USlope, want.Coef["B1"].SD, 11)
	checkDigits(t, "residual sd", l.SD, want.ResidualSD, 11)
	checkDigits(t, "R squared", l.RSquared, want.RSquared, 13)
}
