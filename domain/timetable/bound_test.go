package timetable_test

import (
	"fmt"
	"testing"

	"benchmeet/domain/timetable"
)

// Days small enough to be reckoned by hand, for which plain work and the longest chain
// fall short; the plan is as long as the bound.
func TestBoundsSeeMoreThanWork(t *testing.T) {
	heats := func(n, lanes int) []timetable.Activity {
		var out []timetable.Activity
		for k := range n {
			out = append(out, timetable.Activity{ID: fmt.Sprint(k), Duration: 10, Needs: map[string]int{"bench": lanes}})
		}
		return out
	}
	runs := heats(8, 1)
	for k := range runs {
		runs[k].Entries = []string{fmt.Sprint("E", k%4)}
	}
	rounds := heats(14, 1)
	for k := 7; k < 14; k++ {
		for j := range 7 {
			rounds[k].After = append(rounds[k].After, fmt.Sprint(j))
		}
	}
	back := 100
	tests := []struct {
		name    string
		benches int
		rest    int
		acts    []timetable.Activity
		outages []timetable.Outage
		want    int
	}{
		{"heats of four on six benches run one at a time", 6, 0, heats(5, 4), nil, 50},
		{"seven heats on three benches are three waves, twice", 3, 0, rounds, nil, 60},
		{"four entries on two benches: the second two begin at 10, run, rest 100, run", 2, 100, runs, nil, 130},
		{
			"both benches out from 5 to 100: nothing fits before", 2, 0, heats(2, 1),
			[]timetable.Outage{{Resource: "bench", Amount: 2, From: 5, To: &back}},
			110,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := timetable.Problem{
				Resources: []timetable.Resource{{Name: "bench", Capacity: tt.benches}}, Activities: tt.acts,
				Rest: timetable.Rest{Default: tt.rest}, Outages: tt.outages,
			}
			plan, err := timetable.Solve(p, timetable.Options{Rounds: 50})
			if err != nil {
				t.Fatal(err)
			}
			if plan.LowerBound != tt.want || plan.Makespan != tt.want || !plan.Proved {
				t.Errorf("length %d, bound %d, want %d for both", plan.Makespan, plan.LowerBound, tt.want)
			}
		})
	}
}
