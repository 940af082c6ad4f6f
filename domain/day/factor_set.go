package day

import (
	"slices"

	"benchmeet/domain/fairness"
)

// FactorSet are the factors of the benches that a ruling took over. While it is
// in force, results of rounds that are not closed are divided by them.
type FactorSet struct {
	Number  int                `json:"number"` // from 1
	Factors []fairness.Adopted `json:"factors"`
	// Runs is how many runs the comparison had, and FitUS the newest of them.
	Runs  int   `json:"runs"`
	FitUS int64 `json:"fit_us"`
	AtUS  int64 `json:"at_us"`
	// Withdrawn says that a ruling took the set back. Rounds that were closed with it
	// keep it.
	Withdrawn bool `json:"withdrawn,omitempty"`
}

// of is the factor of a bench.
func (f FactorSet) of(bench BenchID) (fairness.Adopted, bool) {
	i := slices.IndexFunc(f.Factors, func(a fairness.Adopted) bool { return a.Bench == string(bench) })
	if i < 0 {
		return fairness.Adopted{}, false
	}
	return f.Factors[i], true
}
