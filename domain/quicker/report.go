package quicker

import (
	"errors"
	"math"
	"slices"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
	"benchmeet/domain/workshop"
)

// Unfair says why two states of a car cannot be compared fairly.
type Unfair string

// Why it is not fair.
const (
	TwoChanged  Unfair = "two-changed"  // more than one part differs: which it was, nobody knows
	OtherPack   Unfair = "other-pack"   // the pack is one of them
	NotNoted    Unfair = "not-noted"    // what the car was before is not noted
	OtherBench  Unfair = "other-bench"  // no bench has runs of both
	OtherLength Unfair = "other-length" // runs of both are not equally long
	OtherDay    Unfair = "other-day"    // no afternoon has runs of both
	InBlocks    Unfair = "in-blocks"    // one after the other: what changed on the bench meanwhile, nobody knows
)

// Effect names what of a run is compared.
type Effect string

// The effects. More is better in each: of the start the inverse of its time is compared,
// of fading the share of its speed that the car keeps.
const (
	Distance Effect = "distance"
	Start    Effect = "start"
	Top      Effect = "top"
	Fading   Effect = "fading"
)

// Traits are what the speed of a run over time tells of it; a zero is not known.
type Traits struct {
	StartS float64 // seconds to half of its full speed
	Kept   float64 // the share of its speed that is left at the end
}

// Compared is one effect of a change.
type Compared struct {
	Effect Effect
	// Missing says that not all runs show it, so that nothing is compared.
	Missing bool
	tuning.Answer
	// Joint is P of the three effects beside the distance together (Holm): they are looked
	// at side by side. Told says that the effect stands at that level too.
	Joint float64
	Told  bool
}

// Report is the answer for two states of one car.
type Report struct {
	From, To int
	Parts    []workshop.Part // in which they differ
	Unfair   []Unfair        // empty where it is fair
	Bench    day.BenchID
	RaceUS   int64
	// Plan is what was announced, or what is usual where Announced is false.
	Plan      workshop.Plan
	Announced bool
	// Runs are those that are compared, as driven; Waiting those that no look may take into
	// account yet or any more.
	Runs    []club.Practice
	Waiting int
	// Effects are the distance, and then start, top and fading. Of no fair comparison there
	// are none.
	Effects []Compared
	// Before is what fittings of the car scattered by in comparisons of before, which the
	// distance is pooled with.
	Before tuning.Scatter
	// Order is in which states to fit the car as announced, OrderKept that it was so far.
	Order     []int
	OrderKept bool
	// Next says what to run now; zero where the announced number is reached.
	Next Next
	// Others counts the other pairs of states that ran in the same afternoon: one of twenty
	// comparisons says "quicker" by chance.
	Others int
}

// Next is what to run now.
type Next struct {
	State int
	Runs  int  // so often
	Refit bool // take it out and fit it first
}

// Compare compares two states of a car. traits may be nil, and start and fading are then
// missing. It is a *refusal.Refusal where the car has no such states. Its cost goes with
// the runs of the car.
func Compare(s *club.State, car day.CarID, from, to int, traits func(club.Practice) Traits) (Report, error) {
	life := s.Lives.At(car)
	a, isFrom := life.Setup(from)
	b, isTo := life.Setup(to)
	if !isFrom || !isTo || from == to {
		return Report{}, refusal.New("compare-states")
	}
	out := Report{From: from, To: to, Parts: workshop.Apart(a, b), OrderKept: true, Unfair: apart(from, to, workshop.Apart(a, b))}
	all := afternoons(s, car)
	runs, unfair, when := newest(all, from, to)
	out.Unfair = append(out.Unfair, unfair...)
	out.Plan, out.Announced = life.Planned(from, to)
	if out.Announced {
		runs = since(runs, life, out.Plan)
	}
	out.answer(all, when, runs, tuning.Order, traits)
	return out, nil
}

// answer compares the picked runs of the newest afternoon that has any; those before it
// say what else is known of the scatter.
func (out *Report) answer(
	all [][]used, when int, runs []used, order func(fittings int) []bool, traits func(club.Practice) Traits,
) {
	from, to := out.From, out.To
	list := fittings(runs)
	asFitted := once(list, from, to)
	if !out.Announced {
		out.Plan = usual(list, asFitted, from, to)
	}
	out.ordered(list, order)
	if !hasBoth(runs, from, to) {
		return
	}
	out.Bench, out.RaceUS, out.Others = runs[0].Bench, runs[0].RaceUS, others(all[when], from, to)
	kept := settled(list, asFitted, out.Plan)
	out.Waiting = len(runs) - len(kept)
	for _, r := range kept {
		out.Runs = append(out.Runs, r.Practice)
	}
	if len(out.Unfair) > 0 {
		return
	}
	out.Before = before(all[:when], out.Bench, out.RaceUS, out.Plan.RunsAFitting)
	announced := out.Plan.Fittings
	if asFitted {
		announced *= out.Plan.RunsAFitting
		out.Before = tuning.Scatter{} // it is of fittings, and runs are compared here
		if !out.Announced {
			announced++ // the last look is kept for fittings that come again: it has most of what may be spent
		}
	}
	out.compare(kept, announced, traits)
}

// apart is why two setups are not fairly compared.
func apart(from, to int, parts []workshop.Part) []Unfair {
	switch {
	case from == 0 || to == 0:
		return []Unfair{NotNoted}
	case len(parts) > 1 && slices.Contains(parts, workshop.Pack):
		return []Unfair{TwoChanged, OtherPack}
	case len(parts) > 1:
		return []Unfair{TwoChanged}
	}
	return nil
}

// newest is the newest afternoon whose runs can be compared, or why none can.
func newest(all [][]used, from, to int) ([]used, []Unfair, int) {
	var why []Unfair
	ran := map[int]bool{}
	for i := len(all) - 1; i >= 0; i-- {
		runs, unfair := picked(all[i], from, to)
		if len(runs) > 0 {
			return runs, nil, i
		}
		if why == nil {
			why = unfair
		}
		for _, r := range all[i] {
			ran[r.State] = ran[r.State] || r.Counts()
		}
	}
	if why == nil && ran[from] && ran[to] {
		why = []Unfair{OtherDay}
	}
	// One state only has run: what there is of it is still to be followed by the other.
	if len(all) > 0 && why == nil {
		return onlyOne(last(all), from, to), nil, len(all) - 1
	}
	return nil, why, 0
}

func onlyOne(runs []used, from, to int) (out []used) {
	for _, r := range runs {
		if (r.State == from || r.State == to) && r.Counts() {
			out = append(out, r)
		}
	}
	return out
}

// usual is the plan where nobody announced one.
func usual(list []fitting, asFitted bool, from, to int) workshop.Plan {
	plan := workshop.Plan{From: from, To: to, Fittings: UsualFittings, RunsAFitting: 1}
	if asFitted {
		plan.Fittings = UsualRuns
		return plan
	}
	plan.RunsAFitting = min(2, len(list[0].runs), len(list[1].runs))
	return plan
}

// ordered says in which order the states are fitted, whether they were so far, and what
// comes next.
func (r *Report) ordered(list []fitting, order func(fittings int) []bool) {
	first := r.From
	if len(list) > 0 {
		first = list[0].state
	}
	second := r.From + r.To - first
	for i, changed := range order(r.Plan.Fittings) {
		state := first
		if changed {
			state = second
		}
		r.Order = append(r.Order, state)
		if i < len(list) && list[i].state != state {
			r.OrderKept = false
		}
	}
	n := len(list)
	switch {
	case n > 0 && len(list[n-1].runs) < r.Plan.RunsAFitting && n <= len(r.Order):
		r.Next = Next{State: list[n-1].state, Runs: r.Plan.RunsAFitting - len(list[n-1].runs)}
	case n < len(r.Order):
		r.Next = Next{State: r.Order[n], Runs: r.Plan.RunsAFitting, Refit: true}
	}
}

// others counts the other pairs of states that one afternoon could compare.
func others(runs []used, from, to int) int {
	states := map[int]bool{}
	for _, r := range runs {
		if r.Counts() {
			states[r.State] = true
		}
	}
	return max(0, len(states)*(len(states)-1)/2-1)
}

// before pools what fittings of the car scattered by in afternoons of before, on the same
// bench and over the same length, in pairs of states that share none.
func before(all [][]used, bench day.BenchID, raceUS int64, runsAFitting int) tuning.Scatter {
	var known []tuning.Scatter
	for _, afternoon := range all {
		var runs []used
		states := []int{}
		for _, r := range afternoon {
			if r.Counts() && r.Bench == bench && r.RaceUS == raceUS && r.Reference == nil && r.Figures.DistanceUM > 0 {
				runs = append(runs, r)
				if !slices.Contains(states, r.State) {
					states = append(states, r.State)
				}
			}
		}
		for pair := range slices.Chunk(states, 2) {
			if len(pair) < 2 {
				continue
			}
			both, unfair := picked(runs, pair[0], pair[1])
			list := fittings(both)
			if unfair != nil || once(list, pair[0], pair[1]) {
				continue
			}
			plan := workshop.Plan{Fittings: tuning.MostFittings, RunsAFitting: runsAFitting}
			if slices.ContainsFunc(list[:len(list)-1], func(f fitting) bool { return len(f.runs) < runsAFitting }) {
				continue // means of fewer runs scatter otherwise
			}
			a, err := tuning.Compare(values(settled(list, false, plan), pair[1], distance), tuning.MostFittings, tuning.Scatter{})
			if err == nil && a.Scatter.Degrees > 0 {
				known = append(known, a.Scatter)
			}
		}
	}
	return tuning.Pooled(known...)
}

func distance(r club.Practice) float64 { return float64(r.Figures.DistanceUM) }

// values are runs as package tuning takes them.
func values(runs []used, to int, of func(club.Practice) float64) []tuning.Run {
	var out []tuning.Run
	for _, r := range runs {
		out = append(out, tuning.Run{Value: of(r.Practice), Changed: r.State == to, Fitting: r.Fitting, At: float64(r.at)})
	}
	return out
}

func (r *Report) compare(runs []used, announced int, traits func(club.Practice) Traits) {
	if traits == nil {
		traits = func(club.Practice) Traits { return Traits{} }
	}
	known := map[day.RunID]Traits{}
	for _, one := range runs {
		known[one.ID] = traits(one.Practice)
	}
	for _, e := range []struct {
		effect Effect
		of     func(club.Practice) float64
	}{
		{Distance, distance},
		{Start, func(p club.Practice) float64 { return inverse(known[p.ID].StartS) }},
		{Top, func(p club.Practice) float64 { return float64(p.Figures.MaxUMPS) }},
		{Fading, func(p club.Practice) float64 { return known[p.ID].Kept }},
	} {
		earlier := tuning.Scatter{}
		if e.effect == Distance {
			earlier = r.Before
		}
		one := Compared{Effect: e.effect, Joint: 1}
		var err error
		one.Answer, err = tuning.Compare(values(runs, r.To, e.of), announced, earlier)
		switch {
		case errors.Is(err, tuning.ErrValue):
			one.Missing, one.Answer = true, tuning.Answer{Verdict: tuning.CannotTell, P: 1}
		case err != nil: // of whole fittings there is one state only so far
			one.Answer = tuning.Answer{Verdict: tuning.NotYet, P: 1, Left: announced}
		}
		r.Effects = append(r.Effects, one)
	}
	r.Effects[0].Joint = r.Effects[0].P
	beside := r.Effects[1:]
	var p []float64
	for _, e := range beside {
		p = append(p, e.P)
	}
	for i, joint := range tuning.Holm(p) {
		beside[i].Joint = joint
	}
	for i, e := range r.Effects {
		is := e.Verdict == tuning.Quicker || e.Verdict == tuning.Slower
		r.Effects[i].Told = is && e.Joint <= tuning.Level(e.Left)
	}
}

func inverse(v float64) float64 {
	if v <= 0 || math.IsInf(v, 0) {
		return 0
	}
	return 1 / v
}
