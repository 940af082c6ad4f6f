package timetable_test

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"benchmeet/domain/refusal"
	"benchmeet/domain/timetable"
)

func by(end int) *int { return &end }

// contradiction is what a problem is refused for; empty where it is planned, or where it is
// only not known.
func contradiction(t *testing.T, p timetable.Problem) (code, rules string) {
	t.Helper()
	_, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 30})
	if err == nil {
		return "", ""
	}
	no, is := refusal.As(err)
	if !is {
		t.Fatal(err)
	}
	return string(no.Code), argument(no, "rules")
}

func argument(no *refusal.Refusal, name string) string {
	for _, a := range no.Args {
		if a.Name == name {
			return a.Value
		}
	}
	return ""
}

// TestRulesThatCannotHold: what is refused is named in full and without anything that is not
// needed for it. Worked out on paper: each case says why in its name.
func TestRulesThatCannotHold(t *testing.T) {
	bench := func(n int) []timetable.Resource { return []timetable.Resource{{Name: "bench", Capacity: n}} }
	one := func(id string, duration, due int) timetable.Activity {
		a := timetable.Activity{ID: id, Duration: duration, Needs: map[string]int{"bench": 1}}
		if due > 0 {
			a.Due = by(due)
		}
		return a
	}
	for _, c := range []struct {
		name string
		p    timetable.Problem
		want string
	}{
		{
			"two heats of 100 on one bench are not both over at 150, whatever the third",
			timetable.Problem{Resources: bench(1), Activities: []timetable.Activity{one("a", 100, 150), one("b", 100, 150), one("c", 10, 1000)}},
			"a ends by 150; b ends by 150",
		},
		{
			"on two benches they are, but for the one that is out in their time",
			timetable.Problem{
				Resources: bench(2), Activities: []timetable.Activity{one("a", 100, 150), one("b", 100, 150)},
				Outages: []timetable.Outage{{Resource: "bench", Amount: 1, From: 500, To: by(600)}, {Resource: "bench", Amount: 1, To: by(120)}},
			},
			"a ends by 150; b ends by 150; 1 of bench out from 0 to 120",
		},
		{
			"a car that rests for 60 between two heats of 100 is not through at 250, and another that rests less is",
			timetable.Problem{
				Resources: bench(9), Rest: timetable.Rest{Default: 20, Entries: map[string]int{"A": 60}},
				Activities: []timetable.Activity{
					{ID: "a", Duration: 100, Due: by(250), Entries: []string{"A"}},
					{ID: "b", Duration: 100, Due: by(250), Entries: []string{"A"}},
					{ID: "c", Duration: 100, Due: by(250), Entries: []string{"B"}},
					{ID: "d", Duration: 100, Due: by(250), Entries: []string{"B"}},
				},
			},
			"a ends by 250; b ends by 250; entry A rests for 60",
		},
		{
			"before a heat that begins at 30 and lasts to 130 is room for a if it may begin before 10, and behind it not for a and b",
			timetable.Problem{
				Resources: bench(1), Fixed: map[string]int{"f": 30, "g": 300},
				Activities: []timetable.Activity{
					one("f", 100, 0), one("g", 10, 0),
					{ID: "a", Duration: 25, Due: by(200), Needs: map[string]int{"bench": 1}, Release: 10},
					{ID: "b", Duration: 50, Due: by(200), Needs: map[string]int{"bench": 1}, Release: 5},
				},
			},
			"a ends by 200; b ends by 200; f starts at 30; a starts at 10 or later",
		},
	} {
		code, rules := contradiction(t, c.p)
		if code != "plan-dues" || rules != c.want {
			t.Errorf("%s: %q %q, want %q", c.name, code, rules, c.want)
		}
	}
}

// TestNoRuleCanBeLeftOut: of made-up meets whose divisions are to end too early, what is
// named contradicts itself without the other dues, and is not refused any more without any
// one of its own. What is not proved says by how much the nearest plan misses.
func TestNoRuleCanBeLeftOut(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	proved, missed := 0, 0
	for seed := range 30 {
		p := meet(shape{
			entries: 12 + r.IntN(10), benches: 2 + r.IntN(3), lanes: 2, rounds: 2, race: 60, change: 30, rest: 120 * r.IntN(3),
			referees: 3, outages: r.IntN(3), ordered: true, divisions: 2, seed: uint64(seed),
		})
		free, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 30})
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Activities {
			// One division is to be over early, by a time that differs from heat to heat.
			if a := &p.Activities[i]; strings.HasPrefix(a.ID, "D0") {
				a.Due = by(free.LowerBound*2/5 + 10*r.IntN(3))
			}
		}
		_, err = timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 30})
		no, is := refusal.As(err)
		if !is {
			if err == nil {
				continue // they can be kept after all: only the heats of the end were looked at
			}
			t.Fatal(err)
		}
		switch no.Code {
		case "plan-not-found":
			if miss, err := strconv.Atoi(argument(no, "by")); err != nil || miss <= 0 {
				t.Errorf("meet %d: the nearest plan misses by %q", seed, argument(no, "by"))
			}
			missed++
			continue
		case "plan-dues":
		case "plan-due": // one heat cannot keep its own, by what comes before it
			continue
		default:
			t.Errorf("meet %d: %v", seed, err)
			continue
		}
		proved++
		named := strings.Split(argument(no, "activities"), ", ")
		for left := -1; left < len(named); left++ {
			q := p
			q.Activities = slices.Clone(p.Activities)
			for i := range q.Activities {
				if k := slices.Index(named, q.Activities[i].ID); k < 0 || k == left {
					q.Activities[i].Due = nil
				}
			}
			if code, _ := contradiction(t, q); (code == "plan-dues") != (left < 0) {
				t.Errorf("meet %d: without due %d of %v it gives %q", seed, left, named, code)
			}
		}
	}
	if proved < 5 {
		t.Errorf("only %d meets were refused by proof, %d others", proved, missed)
	}
}
