package view_test

import (
	"math"
	"testing"

	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/meet"
)

// TestDifferenceFollowsTheFactorsInForce: two runs are compared by what counts,
// and the doubt about a factor is in the difference of two benches but not of one.
func TestDifferenceFollowsTheFactorsInForce(t *testing.T) {
	d := viewtest.New(t, 4)
	d.Give(meet.DrawRound{Division: "junior"})
	d.Call("junior-1.1.1")
	d.Race("junior-1.1.1")
	v := view.MeetView{State: d.State}
	var runs []day.Run
	for _, r := range d.State.SortedRuns() {
		if d.State.Counting(r) {
			runs = append(runs, r)
		}
	}
	a, b := runs[0], runs[1]
	before := v.Difference(a, b, nil, nil)
	if before.Corrected != nil || math.Abs(before.DistanceM.Value-float64(a.Figures.DistanceUM-b.Figures.DistanceUM)/1e6) > 1e-9 {
		t.Errorf("without factors: %+v", before)
	}

	factors := []fairness.Adopted{}
	for _, bench := range d.State.SortedBenches() {
		factors = append(factors, fairness.Adopted{Bench: string(bench.ID), FactorPPM: 1_000_000, UPPM: 3000, Degrees: 20})
	}
	for i := range factors {
		if factors[i].Bench == string(a.Bench) {
			factors[i].FactorPPM = 1_020_000
		}
	}
	d.State.Factors = []day.FactorSet{{Number: 1, Factors: factors}}
	after := v.Difference(a, b, nil, nil)
	want := float64(a.Figures.DistanceUM)/1e6/1.02 - float64(b.Figures.DistanceUM)/1e6
	if after.Corrected == nil || math.Abs(after.DistanceM.Value-want) > 1e-6 {
		t.Errorf("with a factor of 1.02: %+v, want %g", after, want)
	}
	if u := 0.003 * 400 * math.Sqrt2; math.Abs(after.DistanceM.U-u) > 0.1*u {
		t.Errorf("two benches: u is %g, want about %g", after.DistanceM.U, u)
	}
	b.Bench = a.Bench
	if same := v.Difference(a, b, nil, nil); same.DistanceM.U > 0.5*after.DistanceM.U {
		t.Errorf("one bench: u is %g and was %g for two", same.DistanceM.U, after.DistanceM.U)
	}
}
