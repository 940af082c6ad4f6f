package timetable

import (
	"slices"
	"strings"

	"benchmeet/domain/refusal"
)

// conflict refuses due times that contradict one another, and names a set of them from
// which none can be left out: without any one of them the contradiction is gone. It is
// nil where none is proved.
func (b *bounder) conflict() error {
	m := b.m
	var dues []int
	for i, a := range m.p.Activities {
		if a.Due != nil {
			dues = append(dues, i)
		}
	}
	pairs := m.pairs()
	own := m.late
	defer func() { m.late = own }()
	refuted := func(dues []int) bool {
		m.late = m.lates(dues)
		// A day of any length: what is refuted then is refuted by the dues and fixed starts alone.
		return b.refuted(never, pairs)
	}
	if !refuted(dues) {
		return nil
	}
	// What can be left out while the contradiction stands is left out for good. One pass
	// does: with fewer dues there is less to refute with, so what was needed stays needed.
	for _, i := range slices.Clone(dues) {
		without := slices.DeleteFunc(slices.Clone(dues), func(j int) bool { return j == i })
		if refuted(without) {
			dues = without
		}
	}
	// No due is needed for it, so the fixed starts contradict one another.
	if len(dues) == 0 {
		return refusal.New("plan-fixed-conflict", "fixed", strings.Join(sortedKeys(m.p.Fixed), ", "))
	}
	names := make([]string, len(dues))
	for k, i := range dues {
		names[k] = m.id(i)
	}
	return refusal.New("plan-dues", "activities", strings.Join(names, ", "))
}
