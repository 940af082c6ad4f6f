package timetable

import "math"

// standing is the earlier plan moved to the left: what starts first goes first, so
// that nothing comes later than before as long as the rules have not become stricter.
func (s *search) standing() *plan {
	key := make([]float64, s.m.n)
	for i, a := range s.m.p.Activities {
		if start, told := s.o.Standing[a.ID]; told {
			key[i] = float64(start)
		} else {
			key[i] = math.Inf(1)
		}
	}
	return s.byKey(key, false)
}

// kept is the earlier plan as it stands; nil where it says nothing of an activity, or a
// rule that is not a due speaks against it now.
func (s *search) kept() *plan {
	m, d := s.m, s.d
	p := &plan{list: make([]int, m.n), start: make([]int, m.n)}
	for i, a := range m.p.Activities {
		start, told := s.o.Standing[a.ID]
		if !told || m.fixed[i] >= 0 && start != m.fixed[i] {
			return nil
		}
		p.list[i], p.start[i] = i, start
	}
	d.byStart(p.list, p.start)
	d.b.copyFrom(d.base)
	for _, i := range p.list {
		if m.fixed[i] >= 0 {
			continue
		}
		if m.ready(i, p.start) > p.start[i] || d.b.earliest(i, p.start[i]) != p.start[i] {
			return nil
		}
		d.b.put(i, p.start[i])
	}
	p.cost = m.cost(p.start)
	return p
}
