package timetable_test

import (
	"fmt"
	"slices"

	"benchmeet/domain/timetable"
)

// faults checks a plan against the rules alone, second by second of what changes:
// it shares no code with the planner.
func faults(p timetable.Problem, plan timetable.Plan) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if len(plan.Starts) != len(p.Activities) {
		say("%d starts for %d activities", len(plan.Starts), len(p.Activities))
	}
	end := map[string]int{}
	last := 0
	for _, a := range p.Activities {
		start, there := plan.Starts[a.ID]
		if !there {
			say("%s has no start", a.ID)
		}
		end[a.ID] = start + a.Duration
		last = max(last, end[a.ID])
		if start < a.Release {
			say("%s starts at %d, before its release %d", a.ID, start, a.Release)
		}
		if a.Due != nil && end[a.ID] > *a.Due {
			say("%s ends at %d, after its due %d", a.ID, end[a.ID], *a.Due)
		}
		if at, fixed := p.Fixed[a.ID]; fixed && at != start {
			say("%s is fixed at %d and starts at %d", a.ID, at, start)
		}
	}
	if last != plan.Makespan {
		say("the last ends at %d, the plan says %d", last, plan.Makespan)
	}
	if plan.LowerBound > plan.Makespan || plan.Proved != (plan.LowerBound == plan.Makespan) {
		say("bound %d, length %d, proved %v", plan.LowerBound, plan.Makespan, plan.Proved)
	}
	for _, a := range p.Activities {
		for _, b := range a.After {
			if plan.Starts[a.ID] < end[b] {
				say("%s starts at %d, before %s has ended at %d", a.ID, plan.Starts[a.ID], b, end[b])
			}
		}
	}
	return append(append(out, restFaults(p, plan)...), unitFaults(p, plan)...)
}

// restFaults compares every two activities that share an entry.
func restFaults(p timetable.Problem, plan timetable.Plan) []string {
	var out []string
	runs := map[string][]timetable.Activity{}
	for _, a := range p.Activities {
		for _, e := range a.Entries {
			rest, own := p.Rest.Entries[e]
			if !own {
				rest = p.Rest.Default
			}
			for _, b := range runs[e] {
				from, other := plan.Starts[a.ID], plan.Starts[b.ID]
				if from < other+b.Duration+rest && other < from+a.Duration+rest {
					out = append(out, fmt.Sprintf("entry %s in %s at %d and %s at %d without its rest of %d", e, a.ID, from, b.ID, other, rest))
				}
			}
			runs[e] = append(runs[e], a)
		}
	}
	return out
}

// unitFaults looks at every instant at which something starts or an outage begins:
// how much is used, and who has which unit.
func unitFaults(p timetable.Problem, plan timetable.Plan) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	running := func(a timetable.Activity, t int) bool {
		return plan.Starts[a.ID] <= t && t < plan.Starts[a.ID]+a.Duration
	}
	gone := func(o timetable.Outage, t int) bool { return o.From <= t && (o.To == nil || t < *o.To) }
	for _, r := range p.Resources {
		instants := []int{0}
		for _, a := range p.Activities {
			instants = append(instants, plan.Starts[a.ID])
			got := plan.Units[r.Name][a.ID]
			if len(r.Units) == 0 {
				continue
			}
			if len(got) != a.Needs[r.Name] {
				say("%s has %v of %s, needs %d", a.ID, got, r.Name, a.Needs[r.Name])
			}
			for _, u := range got {
				if !slices.Contains(r.Units, u) {
					say("%s has %s, which is no %s", a.ID, u, r.Name)
				}
			}
		}
		for _, o := range p.Outages {
			if o.Resource == r.Name {
				instants = append(instants, o.From)
			}
		}
		for _, t := range instants {
			missing, named := 0, map[string]bool{}
			for _, o := range p.Outages {
				if o.Resource == r.Name && gone(o, t) {
					if o.Unit == "" {
						missing += o.Amount
					} else {
						named[o.Unit] = true
					}
				}
			}
			used, taken := 0, map[string]string{}
			for _, a := range p.Activities {
				if !running(a, t) {
					continue
				}
				used += a.Needs[r.Name]
				for _, u := range plan.Units[r.Name][a.ID] {
					if other, twice := taken[u]; twice {
						say("%s and %s both have %s at %d", a.ID, other, u, t)
					}
					if named[u] {
						say("%s has %s at %d, which is out", a.ID, u, t)
					}
					taken[u] = a.ID
				}
			}
			if left := r.Capacity - missing - len(named); used > max(0, left) {
				say("%d of %s used at %d, there are %d", used, r.Name, t, left)
			}
		}
	}
	return out
}
