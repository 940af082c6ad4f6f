package timetable

import (
	"slices"
	"strings"

	"benchmeet/domain/refusal"
)

// withFixedUnits is the same problem in which units that are fixed beside a start are out for
// all others in that time, and are no need any more of who has them; and who that is, by
// resource and activity.
func (p Problem) withFixedUnits() (Problem, map[string]map[string][]string, error) {
	if len(p.FixedUnits) == 0 {
		return p, nil, nil
	}
	given := map[string]map[string][]string{}
	taken := map[string][]span{}
	for _, o := range p.Outages {
		if o.Unit != "" {
			s := span{o.From, never}
			if o.To != nil {
				s.to = *o.To
			}
			taken[o.Resource+"\x00"+o.Unit] = append(taken[o.Resource+"\x00"+o.Unit], s)
		}
	}
	p.Activities, p.Outages = slices.Clone(p.Activities), slices.Clone(p.Outages)
	for _, id := range sortedKeys(p.FixedUnits) {
		units := p.FixedUnits[id]
		i := slices.IndexFunc(p.Activities, func(a Activity) bool { return a.ID == id })
		if i < 0 {
			return p, nil, refusal.New("plan-fixed-unknown", "activity", id)
		}
		start, fixed := p.Fixed[id]
		r := slices.IndexFunc(p.Resources, func(r Resource) bool { return len(units) > 0 && slices.Contains(r.Units, units[0]) })
		a := &p.Activities[i]
		sorted := slices.Compact(slices.Sorted(slices.Values(units)))
		known := r >= 0 && !slices.ContainsFunc(units, func(u string) bool { return !slices.Contains(p.Resources[r].Units, u) })
		if !fixed || outside(start) || !known || len(sorted) != len(units) || a.Needs[p.Resources[r].Name] != len(units) {
			return p, nil, refusal.New("plan-fixed-named", "activity", id, "units", strings.Join(units, ", "))
		}
		name := p.Resources[r].Name
		end := start + a.Duration
		for _, u := range units {
			key := name + "\x00" + u
			for _, s := range taken[key] {
				if s.from < end && start < s.to {
					return p, nil, refusal.New("plan-fixed-full", "activity", id, "start", start, "resource", u)
				}
			}
			taken[key] = append(taken[key], span{start, end})
			if a.Duration > 0 {
				p.Outages = append(p.Outages, Outage{Resource: name, Unit: u, From: start, To: &end})
			}
		}
		needs := map[string]int{}
		for k, n := range a.Needs {
			if k != name {
				needs[k] = n
			}
		}
		a.Needs = needs
		if given[name] == nil {
			given[name] = map[string][]string{}
		}
		given[name][id] = slices.Clone(units)
	}
	return p, given, nil
}
