package fairness_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/fairness"
	"benchmeet/domain/refusal"
)

// Whatever the hall, the plan ties all benches together, runs each at least
// twice, puts no two cars on one bench at once, and leaves something to judge
// the noise by.
func TestReferencePlan(t *testing.T) {
	names := func(prefix string, n int) []string {
		var out []string
		for i := range n {
			out = append(out, fmt.Sprintf("%s%02d", prefix, i))
		}
		return out
	}
	for p := 2; p <= 14; p++ {
		for c := 1; c <= p; c++ {
			plan, err := fairness.ReferencePlan(names("b", p), names("c", c))
			if err != nil {
				t.Fatal(err)
			}
			onBench, taken := map[string]int{}, map[string]bool{}
			var runs []fairness.Run
			for _, r := range plan {
				onBench[r.Bench]++
				at := fmt.Sprint(r.Slot, r.Bench)
				if taken[at] {
					t.Errorf("%d benches, %d cars: two cars at %s", p, c, at)
				}
				taken[at] = true
				runs = append(runs, fairness.Run{Bench: r.Bench, Car: r.Car, Value: 1})
			}
			for _, b := range names("b", p) {
				if onBench[b] < 2 {
					t.Errorf("%d benches, %d cars: %s is run on %d times", p, c, b, onBench[b])
				}
			}
			f, err := fairness.FitBenches(runs, fairness.Rounds)
			if err != nil {
				t.Fatal(err)
			}
			if !f.Connected() || f.Degrees < 1 {
				t.Errorf("%d benches, %d cars: connected %v, %d degrees of freedom", p, c, f.Connected(), f.Degrees)
			}
			if last := plan[len(plan)-1].Slot; last != (2*p+c-1)/c {
				t.Errorf("%d benches, %d cars: %d slots", p, c, last)
			}
		}
	}
}

func TestReferencePlanRefuses(t *testing.T) {
	for name, in := range map[string][2][]string{
		"one bench":     {{"b1"}, {"A"}},
		"no car":        {{"b1", "b2"}, nil},
		"too many cars": {{"b1", "b2"}, {"A", "B", "C"}},
		"a bench twice": {{"b1", "b1"}, {"A"}},
		"a car twice":   {{"b1", "b2"}, {"A", "A"}},
	} {
		got, err := fairness.ReferencePlan(in[0], in[1])
		if r, is := refusal.As(err); !is || r.Code != "reference-plan" {
			t.Errorf("%s: got %v, %v", name, got, err)
		}
	}
}

func TestRecheckAndInDoubt(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	morning, err := fairness.FitBenches(dayOf(random, 4, 4, 8, nil), fairness.Rounds)
	if err != nil {
		t.Fatal(err)
	}
	adopted, err := morning.Adopt()
	if err != nil {
		t.Fatal(err)
	}
	noon, err := fairness.FitBenches(dayOf(random, 4, 4, 8, func(r *fairness.Run, b int) {
		if b == 1 {
			r.Value *= 1.05
		}
	}), fairness.Rounds)
	if err != nil {
		t.Fatal(err)
	}
	got, err := noon.Recheck(adopted)
	if err != nil {
		t.Fatal(err)
	}
	for i, b := range got {
		if b.Good == (i == 1) {
			t.Errorf("got %+v", b)
		}
	}
	if b := got[1]; b.Bench != "b02" || math.Abs(b.Off-math.Log(1.05)) > 0.01 {
		t.Errorf("got %+v", b)
	}
	same, err := morning.Recheck(adopted)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range same {
		if !b.Good {
			t.Errorf("the check that was adopted fails: %+v", b)
		}
	}

	checks := []fairness.ReferenceCheck{{"b02", 100, true}, {"b02", 200, true}, {"b01", 250, true}, {"b02", 300, false}, {"b02", 400, true}}
	runs := []fairness.BenchRun{{"r1", "b02", 150}, {"r2", "b02", 250}, {"r3", "b01", 250}, {"r4", "b02", 300}, {"r5", "b02", 350}}
	if diff := cmp.Diff([]fairness.BenchRun{runs[1], runs[3]}, fairness.InDoubt(checks[3], checks, runs)); diff != "" {
		t.Errorf("in doubt (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]fairness.BenchRun{runs[0], runs[1], runs[3]}, fairness.InDoubt(checks[3], nil, runs)); diff != "" {
		t.Errorf("without a good check (-want +got)\n%s", diff)
	}
}

func TestReferenceStepsSaySomething(t *testing.T) {
	for _, n := range fairness.ReferenceSteps() {
		if says := n.Says(); says == string(n.Code) || len(says) < 40 {
			t.Errorf("%s says %q", n.Code, says)
		}
	}
}
