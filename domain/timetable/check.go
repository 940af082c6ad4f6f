package timetable

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/refusal"
)

// sortedKeys returns the keys of a map in order, so that no answer depends on
// how the map lies in memory.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K {
	return slices.Sorted(maps.Keys(m))
}

// outside says that a time or length is no number that can be planned with.
func outside(v int) bool { return v < 0 || v > Latest }

func (m *model) checkResources() error {
	seen := map[string]bool{}
	for _, r := range m.p.Resources {
		if seen[r.Name] || r.Name == "" {
			return refusal.New("plan-resource-twice", "resource", r.Name)
		}
		seen[r.Name] = true
		if r.Capacity < 0 || r.Capacity > 100_000 {
			return refusal.New("plan-capacity", "resource", r.Name, "capacity", r.Capacity)
		}
		if len(r.Units) == 0 {
			continue
		}
		if len(r.Units) != r.Capacity {
			return refusal.New("plan-units", "resource", r.Name, "named", len(r.Units), "capacity", r.Capacity)
		}
		units := map[string]bool{}
		for _, u := range r.Units {
			if units[u] || u == "" {
				return refusal.New("plan-unit-twice", "resource", r.Name, "unit", u)
			}
			units[u] = true
		}
	}
	if outside(m.p.Rest.Default) {
		return refusal.New("plan-number", "what", "The rest", "value", m.p.Rest.Default)
	}
	return nil
}

func (m *model) resource(name string) int {
	return slices.IndexFunc(m.p.Resources, func(r Resource) bool { return r.Name == name })
}

func (m *model) checkActivities() error {
	if m.n > MostActivities {
		return refusal.New("plan-too-many", "number", m.n, "most", MostActivities)
	}
	total := 0
	for i, a := range m.p.Activities {
		if a.ID == "" {
			return refusal.New("plan-no-id", "number", i+1)
		}
		if _, twice := m.index[a.ID]; twice {
			return refusal.New("plan-id-twice", "activity", a.ID)
		}
		m.index[a.ID] = i
		for _, f := range []struct {
			what  string
			value int
		}{{"The duration", a.Duration}, {"The release", a.Release}, {"The due time", due(a)}} {
			if f.value != never && outside(f.value) {
				return refusal.New("plan-number", "what", f.what+" of "+a.ID, "value", f.value)
			}
		}
		// The heats may have to run one after the other, so it is the sum that must stay in range.
		if total += a.Duration; total > Latest {
			return refusal.New("plan-number", "what", "The sum of all durations", "value", total)
		}
		uses, err := m.uses(a)
		if err != nil {
			return err
		}
		m.dur = append(m.dur, a.Duration)
		m.needs = append(m.needs, uses)
	}
	return nil
}

// uses are what an activity takes of each resource, in the order of their names so that
// of several mistakes always the same is told.
func (m *model) uses(a Activity) ([]use, error) {
	var uses []use
	for _, name := range sortedKeys(a.Needs) {
		r, n := m.resource(name), a.Needs[name]
		if r < 0 {
			return nil, refusal.New("plan-need-unknown", "activity", a.ID, "resource", name)
		}
		if n < 0 {
			return nil, refusal.New("plan-number", "what", "What "+a.ID+" needs of "+name, "value", n)
		}
		if n > m.p.Resources[r].Capacity {
			return nil, refusal.New("plan-need-above", "activity", a.ID, "resource", name, "need", n, "capacity", m.p.Resources[r].Capacity)
		}
		if n > 0 && a.Duration > 0 {
			uses = append(uses, use{r, n})
		}
	}
	return uses, nil
}

func due(a Activity) int {
	if a.Due == nil {
		return never
	}
	return *a.Due
}

// readOutages takes what is missing from each resource; what is out twice is out once.
func (m *model) readOutages() error {
	for _, r := range m.p.Resources {
		m.supply = append(m.supply, newProfile(r.Capacity))
	}
	out := make([]map[string][]span, len(m.supply))
	for k, o := range m.p.Outages {
		r, s, err := m.outage(k+1, o)
		if err != nil {
			return err
		}
		if o.Unit == "" {
			m.supply[r].take(s.from, s.to, o.Amount)
			continue
		}
		// Those of a named unit wait, for they must be joined first: it cannot be missing
		// twice.
		if out[r] == nil {
			out[r] = map[string][]span{}
		}
		out[r][o.Unit] = append(out[r][o.Unit], s)
	}
	for r := range m.supply {
		for _, unit := range sortedKeys(out[r]) {
			for _, s := range union(out[r][unit]) {
				m.supply[r].take(s.from, s.to, 1)
			}
		}
		// Outages of any unit and of named ones may come to more than there is: any unit
		// may be one that is out by name.
		for i, free := range m.supply[r].free {
			m.supply[r].free[i] = max(0, free)
		}
	}
	return nil
}

// outage is the resource and the time of an outage, the number of which a refusal names.
func (m *model) outage(number int, o Outage) (r int, out span, err error) {
	if r = m.resource(o.Resource); r < 0 {
		return r, out, refusal.New("plan-outage-unknown", "number", number, "resource", o.Resource)
	}
	out = span{o.From, never}
	if o.To != nil {
		out.to = *o.To
	}
	if outside(out.from) || out.to != never && outside(out.to) || out.to <= out.from {
		return r, out, refusal.New("plan-outage-times", "number", number)
	}
	capacity := m.p.Resources[r].Capacity
	switch {
	case o.Unit == "" && (o.Amount < 1 || o.Amount > capacity):
		return r, out, refusal.New("plan-outage-amount", "number", number, "amount", o.Amount, "resource", o.Resource, "capacity", capacity)
	case o.Unit == "":
		return r, out, nil
	case !slices.Contains(m.p.Resources[r].Units, o.Unit):
		return r, out, refusal.New("plan-outage-unit", "number", number, "unit", o.Unit)
	case o.Amount > 1:
		// A unit has a capacity of one; callers may leave the amount at 0.
		return r, out, refusal.New("plan-outage-amount", "number", number, "amount", o.Amount, "resource", o.Unit, "capacity", 1)
	}
	return r, out, nil
}

// union joins spans that touch or overlap, in order.
func union(list []span) []span {
	slices.SortFunc(list, func(a, b span) int { return cmp.Or(a.from-b.from, a.to-b.to) })
	var out []span
	for _, s := range list {
		if len(out) > 0 && s.from <= out[len(out)-1].to {
			out[len(out)-1].to = max(out[len(out)-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}
