package timetable

// Exhaust looks through all plans of a problem that end by a length, without any search
// before it.
func Exhaust(p Problem, length, nodes int) (plan Plan, is, known bool, err error) {
	m, err := compile(&p)
	if err != nil {
		return Plan{}, false, false, err
	}
	newBounder(m) // which finds heads and tails
	x := newExhaust(m, length, nodes, nil)
	is, known = x.run()
	if is {
		plan = Plan{Starts: map[string]int{}}
		for i, t := range x.found {
			plan.Starts[m.id(i)] = t
			plan.Makespan = max(plan.Makespan, t+m.dur[i])
		}
		plan.LowerBound, plan.Proved = plan.Makespan, true
	}
	return plan, is, known, nil
}
