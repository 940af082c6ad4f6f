package timetable_test

import (
	"errors"
	"fmt"
	"slices"
	"testing"

	"benchmeet/domain/refusal"
	"benchmeet/domain/timetable"
)

// TestFixedUnits: a heat that has begun on b2 and b4 keeps them; the others have to do with
// what is left, and nobody else gets those while it runs.
func TestFixedUnits(t *testing.T) {
	p := timetable.Problem{
		Resources: []timetable.Resource{{Name: "bench", Capacity: 4, Units: []string{"b1", "b2", "b3", "b4"}}},
		Fixed:     map[string]int{"now": 0}, FixedUnits: map[string][]string{"now": {"b2", "b4"}},
		Outages: []timetable.Outage{{Resource: "bench", Unit: "b1", From: 50}},
	}
	for n, id := range []string{"now", "x", "y", "z"} {
		p.Activities = append(p.Activities, timetable.Activity{ID: id, Duration: 100, Needs: map[string]int{"bench": 2 - min(n, 1)}})
	}
	plan, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 20})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults(p, plan) {
		t.Error(f)
	}
	if got := plan.Units["bench"]["now"]; !slices.Equal(got, []string{"b2", "b4"}) || plan.Starts["now"] != 0 {
		t.Errorf("it stands on %v from %d on", got, plan.Starts["now"])
	}
	// b1 goes at 50, so b3 alone is left until 100: one heat then, two on b2 and b4 from 100 on.
	if plan.Makespan != 200 || plan.LowerBound > 200 {
		t.Errorf("length %d over %d, want 200", plan.Makespan, plan.LowerBound)
	}
	if len(p.Activities[0].Needs) != 1 || len(p.Outages) != 1 {
		t.Error("the problem was changed")
	}
	for name, units := range map[string][]string{"too few": {"b2"}, "one twice": {"b2", "b2"}, "unknown": {"b2", "b9"}, "none": {}} {
		q := p
		q.FixedUnits = map[string][]string{"now": units}
		_, err := timetable.Solve(q, timetable.Options{Rounds: 1})
		if no, is := refusal.As(err); !is || no.Code != "plan-fixed-named" {
			t.Errorf("%s: %v", name, err)
		}
	}
	q := p
	q.FixedUnits = map[string][]string{"now": {"b1", "b2"}} // b1 is out before it ends
	_, err = timetable.Solve(q, timetable.Options{Rounds: 1})
	var no *refusal.Refusal
	if !errors.As(err, &no) || no.Code != "plan-fixed-full" {
		t.Errorf("on a bench that goes out: %v", err)
	}
}

// TestFixedUnitsOfAPlan: of made-up meets, heats that have begun keep the benches that the
// first plan gave them.
func TestFixedUnitsOfAPlan(t *testing.T) {
	for seed := range 12 {
		p := meet(shape{
			entries: 24, benches: 6, lanes: 2, rounds: 2, race: 60, change: 30, rest: 60, referees: 4, outages: 1 + seed%2, named: true,
			knockout: seed%3 == 0, divisions: 1, seed: uint64(seed),
		})
		first, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 20})
		if err != nil {
			t.Fatal(err)
		}
		p.Fixed, p.FixedUnits = map[string]int{}, map[string][]string{}
		for id, at := range first.Starts {
			if at < first.Makespan/4 && len(first.Units["bench"][id]) > 0 {
				p.Fixed[id], p.FixedUnits[id] = at, first.Units["bench"][id]
			}
		}
		again, err := timetable.Solve(p, timetable.Options{Seed: 2, Rounds: 20})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults(p, again) {
			t.Errorf("meet %d: %s", seed, f)
		}
		for id, units := range p.FixedUnits {
			if fmt.Sprint(again.Units["bench"][id]) != fmt.Sprint(units) || again.Starts[id] != p.Fixed[id] {
				t.Errorf("meet %d: %s moved from %v to %v", seed, id, units, again.Units["bench"][id])
			}
		}
		if len(p.Fixed) == 0 {
			t.Errorf("meet %d: nothing had begun", seed)
		}
	}
}
