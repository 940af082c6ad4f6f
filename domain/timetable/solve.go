package timetable

import "benchmeet/domain/refusal"

// Solve plans a day. It refuses, as a [refusal.Refusal] that names the activity and
// the rule, what cannot be planned; a due time for which it has found no plan, but
// has not proved that there is none, is refused in other words ("plan-not-found").
// Nothing of the problem is changed. The cost is that of the rounds: one takes about
// three passes through the activities, 20 µs for thirty and 3 ms for a thousand.
func Solve(p Problem, o Options) (Plan, error) {
	p, given, err := p.withFixedUnits()
	if err != nil {
		return Plan{}, err
	}
	plan, err := solve(p, o)
	for resource, units := range given {
		for id, names := range units {
			if plan.Units[resource] != nil {
				plan.Units[resource][id] = names
			}
		}
	}
	return plan, err
}

func solve(p Problem, o Options) (Plan, error) {
	m, err := compile(&p)
	if err != nil {
		return Plan{}, err
	}
	for _, name := range sortedKeys(o.Standing) {
		if _, known := m.index[name]; !known {
			return Plan{}, refusal.New("plan-standing-unknown", "activity", name)
		}
	}
	if m.n == 0 {
		return Plan{Starts: map[string]int{}, Units: map[string]map[string][]string{}, Proved: true, Why: Reason{Code: "nothing"}}, nil
	}
	b := newBounder(m)
	for i := range m.n {
		if m.head[i]+m.dur[i] > due(p.Activities[i]) {
			return Plan{}, m.tooLate(i, m.head[i])
		}
	}
	low := b.bound()
	s := newSearch(m, low.t, &o)
	greedy := s.greedy()
	s.see(greedy)
	if s.best != nil {
		greedy = s.best // with named units, where outages of those ask for more
	}
	s.begin()
	if s.best != nil && s.best.cost.late > 0 {
		// Do not look for what cannot be.
		if err := b.conflict(); err != nil {
			return Plan{}, err
		}
	}
	if !o.Rough && s.best != nil && !s.done() && s.best.cost.late == 0 {
		if better := b.destroy(low.t, s.best.cost.length); better > low.t {
			s.bound = better
		}
	}
	s.run()
	low.t = s.bound
	if s.best == nil {
		return Plan{}, refusal.New("plan-fixed-units")
	}
	if s.best.cost.late > 0 {
		return Plan{}, m.nearest(s.best)
	}
	return m.finishPlan(s, low, greedy.cost.length)
}

// nearest refuses when no plan was found, and says by how much the best one misses.
func (m *model) nearest(p *plan) error {
	worst, by := 0, 0
	for i, s := range p.start {
		if miss := s + m.dur[i] - m.late[i]; miss > by {
			worst, by = i, miss
		}
	}
	return refusal.New("plan-not-found", "activity", m.id(worst), "latest", m.late[worst], "by", by)
}

// finishPlan names the units and writes the answer.
func (m *model) finishPlan(s *search, low reach, greedy int) (Plan, error) {
	best := s.best
	out := Plan{
		Starts: map[string]int{}, Units: map[string]map[string][]string{},
		LowerBound: low.t, Why: m.reason(low), Greedy: greedy, Rounds: s.rounds,
	}
	if s.unnamed {
		s.name(best)
	}
	got := best.units
	for i, t := range best.start {
		out.Starts[m.id(i)] = t
	}
	for k, a := range s.units {
		names := map[string][]string{}
		r := m.p.Resources[a.res]
		for i, list := range got[k] {
			for _, u := range list {
				names[m.id(i)] = append(names[m.id(i)], r.Units[u])
			}
		}
		out.Units[r.Name] = names
	}
	out.Makespan = best.cost.length
	out.Proved = out.Makespan == out.LowerBound
	return out, nil
}
