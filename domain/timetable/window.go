package timetable

import (
	"slices"

	"benchmeet/domain/refusal"
)

// setWindows finds the earliest start and latest end of each activity by releases,
// dues, fixed starts, order and outages, and refuses what cannot be kept.
func (m *model) setWindows() error {
	m.early = make([]int, m.n)
	for _, i := range m.topo {
		a := m.p.Activities[i]
		t, because := a.Release, -1
		for _, p := range m.pred[i] {
			if end := m.early[p.to] + m.dur[p.to] + p.lag; end > t {
				t, because = end, p.to
			}
		}
		at := m.fit(i, t)
		if at >= never {
			return refusal.New("plan-never-fits", "activity", a.ID)
		}
		t = at
		if f := m.fixed[i]; f >= 0 {
			// Whether what is fixed finds enough there beside all else that is, checkFixed says.
			if t > f {
				return m.tooEarly(i, because, t)
			}
			t = f
		}
		m.early[i] = t
		if t+m.dur[i] > due(a) {
			return m.tooLate(i, t)
		}
	}
	var dues []int
	for i, a := range m.p.Activities {
		if a.Due != nil {
			dues = append(dues, i)
		}
	}
	m.late = m.lates(dues)
	return nil
}

// lates are the latest ends by the dues of the given activities, by fixed starts and
// by what comes after.
func (m *model) lates(dues []int) []int {
	late := make([]int, m.n)
	for i := range late {
		late[i] = never
	}
	for _, i := range dues {
		late[i] = due(m.p.Activities[i])
	}
	for _, i := range slices.Backward(m.topo) {
		for _, s := range m.succ[i] {
			late[i] = min(late[i], late[s.to]-m.dur[s.to]-s.lag)
		}
		if f := m.fixed[i]; f >= 0 {
			late[i] = f + m.dur[i]
		}
	}
	return late
}

// fit is the earliest start from t on by outages alone.
func (m *model) fit(i, t int) int {
	for {
		from := t
		for _, u := range m.needs[i] {
			if t = m.supply[u.res].earliest(t, m.dur[i], u.n); t >= never {
				return never
			}
		}
		if t == from {
			return t
		}
	}
}

// tooLate refuses a due time that cannot be met: the activity cannot start before t.
func (m *model) tooLate(i, t int) error {
	a := m.p.Activities[i]
	return refusal.New("plan-due", "activity", a.ID, "due", *a.Due, "end", t+m.dur[i])
}

// tooEarly refuses a fixed start before the rules allow one.
func (m *model) tooEarly(i, because, t int) error {
	if because >= 0 {
		return refusal.New("plan-fixed-after", "activity", m.id(i), "start", m.fixed[i], "after", m.id(because), "earliest", t)
	}
	return refusal.New("plan-fixed-early", "activity", m.id(i), "start", m.fixed[i], "earliest", t)
}

func (m *model) readFixed() error {
	m.fixed = make([]int, m.n)
	for i := range m.fixed {
		m.fixed[i] = -1
	}
	for _, name := range sortedKeys(m.p.Fixed) {
		i, known := m.index[name]
		if !known {
			return refusal.New("plan-fixed-unknown", "activity", name)
		}
		if outside(m.p.Fixed[name]) {
			return refusal.New("plan-number", "what", "The fixed start of "+name, "value", m.p.Fixed[name])
		}
		m.fixed[i] = m.p.Fixed[name]
	}
	return nil
}

// checkFixed refuses fixed starts that contradict one another.
func (m *model) checkFixed() error {
	b := newBoard(m)
	for i, start := range m.fixed {
		if start < 0 {
			continue
		}
		for _, u := range m.needs[i] {
			if b.free[u.res].earliest(start, m.dur[i], u.n) != start {
				return refusal.New("plan-fixed-full", "activity", m.id(i), "start", start, "resource", m.p.Resources[u.res].Name)
			}
		}
		for _, e := range m.ents[i] {
			if b.runs[e].earliest(start, m.dur[i], m.rest[e]) != start {
				return refusal.New("plan-fixed-entry", "activity", m.id(i), "start", start, "entry", m.names[e], "rest", m.rest[e])
			}
		}
		b.put(i, start)
	}
	return nil
}
