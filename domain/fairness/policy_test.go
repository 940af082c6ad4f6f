package fairness_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

func TestAdopt(t *testing.T) {
	f, err := fairness.FitBenches(exactRuns(), fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.Adopt()
	if err != nil {
		t.Fatal(err)
	}
	want := []fairness.Adopted{
		{Bench: "b1", FactorPPM: 1_020_000, Degrees: 3},
		{Bench: "b2", FactorPPM: 980_392, Degrees: 3},
		{Bench: "b3", FactorPPM: 1_000_000, Degrees: 3},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestAdoptRefusesBrokenBench(t *testing.T) {
	runs := exactRuns()
	for i := range runs {
		if runs[i].Bench == "b1" {
			runs[i].Value *= 10
		}
	}
	f, err := fairness.FitBenches(runs, fairness.Hours)
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.Adopt()
	if r, is := refusal.As(err); !is || r.Code != "factor-range" {
		t.Errorf("got %v, %v", got, err)
	}
}

func TestApply(t *testing.T) {
	tests := []struct {
		name   string
		factor int64
		value  int64
		want   int64
	}{
		{"as it is", 1_000_000, 231_200_000, 231_200_000},
		{"reads high", 1_020_000, 231_200_000, 226_666_667},
		{"half goes up", 2_000_000, 3, 2},
		{"below half goes down", 1_500_000, 2, 1},
		{"never adopted", 0, 77, 77},
		{"nothing", 1_020_000, 0, 0},
		{"at the end of the range", 500_000, math.MaxInt64, math.MaxInt64},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := fairness.Adopted{FactorPPM: tt.factor}.Apply(tt.value)
			if diff := cmp.Diff(fairness.Corrected{AsRead: tt.value, Corrected: tt.want}, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestApplyAgainstBigNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		factor := rapid.Int64Range(500_000, 2_000_000).Draw(t, "factor")
		value := rapid.Int64Range(0, 1<<53).Draw(t, "value")
		want := new(big.Int).Mul(big.NewInt(value), big.NewInt(1_000_000))
		want.Add(want, big.NewInt(factor/2))
		want.Quo(want, big.NewInt(factor))
		if got := (fairness.Adopted{FactorPPM: factor}).Apply(value).Corrected; got != want.Int64() {
			t.Fatalf("got %d, want %s", got, want)
		}
	})
}

func TestPolicy(t *testing.T) {
	for _, p := range []fairness.Policy{fairness.Report, fairness.Correct, fairness.TakeOut} {
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", p, err)
		}
	}
	if r, is := refusal.As(fairness.Policy("repair").Check()); !is || r.Code != "policy-word" {
		t.Errorf("got %v", r)
	}
}
