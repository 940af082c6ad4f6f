package timetable

import (
	"fmt"
	"slices"
	"strings"

	"benchmeet/domain/refusal"
)

// conflict refuses rules that contradict one another, and names a set of them from which
// none can be left out: without any one of them the contradiction is no longer proved. It is
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
	dues = needed(dues, refuted)
	// No due is needed for it, so the fixed starts contradict one another.
	if len(dues) == 0 {
		return refusal.New("plan-fixed-conflict", "fixed", strings.Join(sortedKeys(m.p.Fixed), ", "))
	}
	names := make([]string, len(dues))
	for k, i := range dues {
		names[k] = m.id(i)
	}
	return refusal.New("plan-dues", "activities", strings.Join(names, ", "), "rules", strings.Join(besides(*m.p, dues), "; "))
}

// needed leaves out what can be left out while a contradiction stands: half of it at once at
// first, in the end one by one. With fewer rules there is less to refute with, so what was
// needed stays needed, and none of what is returned can be left out.
func needed(rules []int, refuted func(kept []int) bool) []int {
	for size := max(1, len(rules)/2); ; size /= 2 {
		for from := 0; from < len(rules); {
			without := slices.Delete(slices.Clone(rules), from, min(len(rules), from+size))
			if refuted(without) {
				rules = without
			} else {
				from += size
			}
		}
		if size <= 1 {
			return rules
		}
	}
}

// relaxed is a rule beside the dues: in words, and how a problem is without it.
type relaxed struct {
	says  string
	leave func(p *Problem)
}

// besides are dues with the other rules without which they would not contradict one another,
// in words.
func besides(p Problem, dues []int) (out []string) {
	rules := p.others()
	without := func(kept []int) Problem {
		q := p
		q.Activities, q.Outages = slices.Clone(p.Activities), slices.Clone(p.Outages)
		q.Fixed, q.Rest.Entries = map[string]int{}, map[string]int{}
		for k, v := range p.Fixed {
			q.Fixed[k] = v
		}
		for k, v := range p.Rest.Entries {
			q.Rest.Entries[k] = v
		}
		for i := range q.Activities {
			if !slices.Contains(dues, i) {
				q.Activities[i].Due = nil
			}
		}
		for k, rule := range rules {
			if !slices.Contains(kept, k) {
				rule.leave(&q)
			}
		}
		return q
	}
	all := make([]int, len(rules))
	for k := range all {
		all[k] = k
	}
	for _, i := range dues {
		out = append(out, fmt.Sprintf("%s ends by %d", p.Activities[i].ID, *p.Activities[i].Due))
	}
	for _, k := range needed(all, func(kept []int) bool { q := without(kept); return q.contradicts() }) {
		out = append(out, rules[k].says)
	}
	return out
}

// contradicts says whether it is proved that the rules of a problem cannot all hold.
func (p *Problem) contradicts() bool {
	m, err := compile(p)
	if err != nil {
		return true
	}
	return newBounder(m).refuted(never, m.pairs())
}

// others are the rules of a problem beside its dues, but for those of which it is made: how
// long things take, what they need and what comes after what.
func (p *Problem) others() (out []relaxed) {
	for i, a := range p.Activities {
		if at, fixed := p.Fixed[a.ID]; fixed {
			out = append(out, relaxed{fmt.Sprintf("%s starts at %d", a.ID, at), func(p *Problem) { delete(p.Fixed, a.ID) }})
		}
		if a.Release > 0 {
			out = append(out, relaxed{
				fmt.Sprintf("%s starts at %d or later", a.ID, a.Release), func(p *Problem) { p.Activities[i].Release = 0 },
			})
		}
	}
	for k, o := range p.Outages {
		what := o.Resource + " " + o.Unit
		if o.Unit == "" {
			what = fmt.Sprintf("%d of %s", o.Amount, o.Resource)
		}
		until := "on"
		if o.To != nil {
			until = fmt.Sprint("to ", *o.To)
		}
		out = append(out, relaxed{fmt.Sprintf("%s out from %d %s", what, o.From, until), func(p *Problem) {
			// It takes nothing from an instant on that no plan reaches: outages keep their numbers.
			p.Outages[k].From, p.Outages[k].To = Latest, nil
		}})
	}
	if p.Rest.Default > 0 {
		out = append(out, relaxed{fmt.Sprintf("an entry rests for %d", p.Rest.Default), func(p *Problem) { p.Rest.Default = 0 }})
	}
	for _, e := range sortedKeys(p.Rest.Entries) {
		out = append(out, relaxed{fmt.Sprintf("entry %s rests for %d", e, p.Rest.Entries[e]), func(p *Problem) { p.Rest.Entries[e] = 0 }})
	}
	return out
}
