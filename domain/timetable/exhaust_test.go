package timetable_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/timetable"
)

// smallDay draws up to five activities on one or two resources, with order, entries that
// rest, releases, an outage, dues that may not be kept, and something that is fixed.
func smallDay(t *rapid.T) timetable.Problem {
	small := func(name string, from, to int) int { return rapid.IntRange(from, to).Draw(t, name) }
	var p timetable.Problem
	for r := range small("resources", 1, 2) {
		p.Resources = append(p.Resources, timetable.Resource{Name: fmt.Sprint("R", r), Capacity: small("capacity", 1, 3)})
	}
	p.Rest.Default = small("rest", 0, 2)
	for i := range small("activities", 2, 5) {
		a := timetable.Activity{ID: fmt.Sprint(i), Duration: small("duration", 0, 3), Release: small("release", 0, 2), Needs: map[string]int{}}
		for _, r := range p.Resources {
			if n := small("need", 0, r.Capacity); n > 0 && a.Duration > 0 {
				a.Needs[r.Name] = n
			}
		}
		for j := range i {
			if small("after", 0, 3) == 0 {
				a.After = append(a.After, fmt.Sprint(j))
			}
		}
		if small("entry", 0, 1) == 0 && a.Duration > 0 {
			a.Entries = []string{fmt.Sprint("car ", small("car", 1, 2))}
		}
		p.Activities = append(p.Activities, a)
	}
	if small("outage", 0, 2) == 0 {
		from := small("from", 0, 4)
		to := from + small("length", 1, 3)
		p.Outages = []timetable.Outage{{Resource: "R0", Amount: 1, From: from, To: &to}}
	}
	if small("fixed", 0, 3) == 0 {
		p.Fixed = map[string]int{"0": p.Activities[0].Release + small("at", 0, 3)}
	}
	return p
}

// shortest is the length of the shortest plan that ends by an instant, by trying every
// start of every activity; -1 where none does. It knows the rules alone.
func shortest(p timetable.Problem, by int) int {
	start := make([]int, len(p.Activities))
	best := -1
	var try func(i, length int)
	try = func(i, length int) {
		if best >= 0 && length >= best {
			return
		}
		if i == len(p.Activities) {
			best = length
			return
		}
		a := p.Activities[i]
		for at := a.Release; at+a.Duration <= by; at++ {
			if fixed, is := p.Fixed[a.ID]; is && fixed != at {
				continue
			}
			start[i] = at
			if !clashes(p, start[:i+1]) {
				try(i+1, max(length, at+a.Duration))
			}
		}
	}
	try(0, 0)
	return best
}

// clashes says whether the last of some activities breaks a rule with those before it.
func clashes(p timetable.Problem, start []int) bool {
	i := len(start) - 1
	a := p.Activities[i]
	for j, at := range start[:i] {
		b := p.Activities[j]
		for _, id := range a.After {
			if id == b.ID && start[i] < at+b.Duration {
				return true
			}
		}
		if len(a.Entries) > 0 && len(b.Entries) > 0 && a.Entries[0] == b.Entries[0] &&
			start[i] < at+b.Duration+p.Rest.Default && at < start[i]+a.Duration+p.Rest.Default {
			return true
		}
	}
	for _, r := range p.Resources {
		for t := start[i]; t < start[i]+a.Duration; t++ {
			left := r.Capacity
			for _, o := range p.Outages {
				if o.Resource == r.Name && o.From <= t && t < *o.To {
					left -= o.Amount
				}
			}
			for j, at := range start {
				if b := p.Activities[j]; at <= t && t < at+b.Duration {
					left -= b.Needs[r.Name]
				}
			}
			if left < 0 {
				return true
			}
		}
	}
	return false
}

// TestAllPlansAreLookedThrough: a plan that ends by a length is found where there is one,
// and where there is none, that is known.
func TestAllPlansAreLookedThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := smallDay(t)
		const by = 16 // longer than all of them one after the other, with rests and outage
		best := shortest(p, by)
		for length := max(0, best-2); length <= best+1; length++ {
			plan, is, known, err := timetable.Exhaust(p, length, 100_000)
			if err != nil {
				return // what cannot be planned is refused, which other tests hold
			}
			if !known || is != (best >= 0 && best <= length) {
				t.Fatalf("by %d: %v, known %v; the shortest is %d", length, is, known, best)
			}
			if !is {
				continue
			}
			if f := faults(p, plan); len(f) > 0 || plan.Makespan > length {
				t.Fatalf("by %d: ends at %d, %v", length, plan.Makespan, f)
			}
		}
	})
}

// TestSmallDaysAreShortest: days that are looked through as a whole get the shortest plan
// that there is, and it is said to be the shortest.
func TestSmallDaysAreShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := smallDay(t)
		plan, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: 3000})
		if err != nil {
			return // what cannot be planned is refused, which other tests hold
		}
		if f := faults(p, plan); len(f) > 0 {
			t.Fatalf("%v", f)
		}
		best := shortest(p, plan.Makespan)
		if plan.Makespan != best || !plan.Proved {
			t.Fatalf("length %d, proved %v, bound %d; the shortest is %d", plan.Makespan, plan.Proved, plan.LowerBound, best)
		}
	})
}
