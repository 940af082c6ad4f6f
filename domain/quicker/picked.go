package quicker

import (
	"slices"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/workshop"
)

// What is compared where nobody announced a number.
const (
	UsualFittings = 8
	UsualRuns     = 10
)

// pauseUS ends an afternoon: a car that ran again after three hours was put away between.
const pauseUS = 3 * 3600 * 1_000_000

// used is one run that is compared, with how often the car had driven before it in the
// afternoon.
type used struct {
	club.Practice
	at int
}

// afternoons are the runs of a car that drove at all, oldest first, cut where it rested
// long.
func afternoons(s *club.State, car day.CarID) [][]used {
	return cut(s.History(car, s.Runs.Len()))
}

// cut makes afternoons of runs, newest first, where all of them rested long.
func cut(history []club.Practice) [][]used {
	var out [][]used
	for i, r := range slices.Backward(history) {
		if r.Short {
			continue
		}
		if i == len(history)-1 || len(out) == 0 || r.AtUS-last(last(out)).AtUS > pauseUS {
			out = append(out, nil)
		}
		n := len(out) - 1
		out[n] = append(out[n], used{r, len(out[n])})
	}
	return out
}

func last[T any](list []T) T { return list[len(list)-1] }

// picked are the runs of an afternoon that can be compared: on the bench and of the length
// of the newest run on a bench that has both states; false where no bench has both.
func picked(runs []used, from, to int) ([]used, []Unfair) {
	var both []used
	for _, r := range runs {
		if (r.State == from || r.State == to) && r.Counts() && r.Reference == nil && r.Figures.DistanceUM > 0 {
			both = append(both, r)
		}
	}
	if !hasBoth(both, from, to) {
		return nil, nil
	}
	alike := func(like used, bench, length bool) []used {
		var out []used
		for _, r := range both {
			if (!bench || r.Bench == like.Bench) && (!length || r.RaceUS == like.RaceUS) {
				out = append(out, r)
			}
		}
		return out
	}
	lengths := false
	for _, like := range slices.Backward(both) {
		if one := alike(like, true, true); hasBoth(one, from, to) {
			return one, nil
		}
		lengths = lengths || hasBoth(alike(like, true, false), from, to)
	}
	if lengths {
		return nil, []Unfair{OtherLength}
	}
	return nil, []Unfair{OtherBench}
}

func hasBoth(runs []used, from, to int) bool {
	in := func(state int) bool { return slices.ContainsFunc(runs, func(r used) bool { return r.State == state }) }
	return in(from) && in(to)
}

// since are the runs that an announcement is about: those after it, and those of the
// fitting that the car was in just then, for they came before the other state ran.
func since(runs []used, life workshop.Life, plan workshop.Plan) []used {
	now := life.At(plan.AtUS)
	return slices.DeleteFunc(slices.Clone(runs), func(r used) bool {
		return r.AtUS < plan.AtUS && r.Fitting != now.Fitting
	})
}

// fitting is a stretch of runs between two times that something was fitted.
type fitting struct {
	state int
	runs  []used
}

func fittings(runs []used) []fitting {
	var out []fitting
	for _, r := range runs {
		if len(out) == 0 || last(last(out).runs).Fitting != r.Fitting || last(out).state != r.State {
			out = append(out, fitting{state: r.State})
		}
		f := &out[len(out)-1]
		f.runs = append(f.runs, r)
	}
	return out
}

// once says whether a state was fitted once only, so that runs are compared one by one.
func once(list []fitting, from, to int) bool {
	count := map[int]int{}
	for _, f := range list {
		count[f.state]++
	}
	return count[from] < 2 || count[to] < 2
}

// settled leaves out what no look may take into account: of fittings the last one while it
// is not run as often as announced, and whatever comes behind the announced number.
func settled(list []fitting, asFitted bool, plan workshop.Plan) []used {
	var out []used
	if asFitted {
		for _, f := range list {
			out = append(out, f.runs...)
		}
		return out[:min(len(out), plan.Fittings*plan.RunsAFitting)]
	}
	list = list[:min(len(list), plan.Fittings)]
	if n := len(list) - 1; len(list[n].runs) < plan.RunsAFitting {
		list = list[:n]
	}
	for _, f := range list {
		out = append(out, f.runs[:min(len(f.runs), plan.RunsAFitting)]...)
	}
	return out
}
