package quicker

import (
	"cmp"
	"slices"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
	"benchmeet/domain/tuning"
)

// The numbers of the two that are compared beside each other; each run of the report has
// one of them as its state.
const (
	First  = 1
	Second = 2
)

// leastEfficiency is how well the order on the bench has to tell what is compared from
// what changed on the bench meanwhile; A B A B has 0.8, A A B B has 0.2.
const leastEfficiency = 0.5

// CompareCars compares two cars, each as it was built last, by the statistics of
// [Compare]: in one afternoon, on one bench and over one length, for what a bench reads
// too much it reads for both. A turn of a car takes the place of a fitting. Drift goes by
// each car's own runs, and the cars have to take turns: where one ran after the other, the
// bench may have changed. It is a *refusal.Refusal where they are no two cars. Its cost goes
// with the runs of both.
func CompareCars(s *club.State, first, second day.CarID, traits func(club.Practice) Traits) (Report, error) {
	if first == second || first == "" || second == "" {
		return Report{}, refusal.New("compare-cars")
	}
	return beside(s, []day.CarID{first, second}, traits, func(r club.Practice) int {
		if r.Car == first {
			return First
		}
		return Second
	}), nil
}

// CompareBenches compares two benches by one car that ran on both in turns, as it was built
// last: what the second bench shows of it beside the first. Without such an order no two
// benches are compared here; factors of benches are found by their reference check. It is a
// *refusal.Refusal where they are no two benches.
func CompareBenches(s *club.State, car day.CarID, first, second day.BenchID, traits func(club.Practice) Traits) (Report, error) {
	if first == second || first == "" || second == "" {
		return Report{}, refusal.New("compare-benches")
	}
	out := beside(s, []day.CarID{car}, traits, func(r club.Practice) int {
		switch r.Bench {
		case first:
			return First
		case second:
			return Second
		}
		return 0
	})
	out.Bench = "" // there are two
	return out, nil
}

// beside compares the runs of cars that side gives the number of one side or the other; 0
// leaves a run out.
func beside(s *club.State, cars []day.CarID, traits func(club.Practice) Traits, side func(club.Practice) int) Report {
	out := Report{From: First, To: Second, OrderKept: true}
	all := together(s, cars, side)
	if len(cars) == 1 {
		for _, afternoon := range all {
			for i := range afternoon {
				afternoon[i].Bench = "" // the benches are what is compared
			}
		}
	}
	runs, unfair, when := newest(all, First, Second)
	out.Unfair = unfair
	out.answer(all, when, runs, turnAbout, traits)
	switch {
	case len(out.Effects) == 0 || out.tookTurns():
	case out.least() < 2: // the second has only begun
		for i, e := range out.Effects {
			out.Effects[i] = Compared{Effect: e.Effect, Joint: 1, Answer: tuning.Answer{Verdict: tuning.NotYet, P: 1, Left: e.Left}}
		}
	default:
		out.Unfair, out.Effects = []Unfair{InBlocks}, nil
	}
	for i, r := range out.Runs {
		was, _ := s.PracticeRun(r.ID)
		out.Runs[i].Bench = was.Bench
	}
	return out
}

// together are the afternoons of cars, oldest first, each car as it was built in its last
// run of the afternoon that is on a side.
func together(s *club.State, cars []day.CarID, side func(club.Practice) int) [][]used {
	var history []club.Practice
	for _, car := range cars {
		history = append(history, s.History(car, s.Runs.Len())...)
	}
	slices.SortStableFunc(history, func(a, b club.Practice) int { return cmp.Compare(b.AtUS, a.AtUS) })
	all := cut(history)
	for i, afternoon := range all {
		built := map[day.CarID]int{}
		for _, r := range afternoon {
			if side(r.Practice) != 0 && r.Counts() {
				built[r.Car] = r.State
			}
		}
		driven := map[day.CarID]int{}
		var kept []used
		for _, r := range afternoon {
			r.at = driven[r.Car]
			driven[r.Car]++
			if of := side(r.Practice); of != 0 && r.State == built[r.Car] {
				r.State = of
				kept = append(kept, r)
			}
		}
		all[i] = inTurns(kept)
	}
	return slices.DeleteFunc(all, func(runs []used) bool { return len(runs) == 0 })
}

// turnAbout is the order in which two are compared: A B A B, as a queue has them. Two turns
// of one side in a row would be one, and drift goes by what each has driven itself, which is
// the same for both after each pair of turns.
func turnAbout(turns int) []bool {
	out := make([]bool, turns)
	for i := range out {
		out[i] = i%2 == 1
	}
	return out
}

// inTurns numbers the turns as fittings: whoever comes again is put on anew.
func inTurns(runs []used) []used {
	turn := 0
	for i := range runs {
		if i > 0 && runs[i].State != runs[i-1].State {
			turn++
		}
		runs[i].Fitting = turn + 1
	}
	return runs
}

// least is how many runs the side has that has fewer.
func (r Report) least() int {
	count := map[int]int{}
	for _, one := range r.Runs {
		count[one.State]++
	}
	return min(count[r.From], count[r.To])
}

// tookTurns says whether the order of the compared runs tells the two sides from whatever
// changed on the bench along the way.
func (r Report) tookTurns() bool {
	var list []tuning.Run
	for i, one := range r.Runs {
		list = append(list, tuning.Run{Value: 1, Changed: one.State == r.To, Fitting: one.Fitting, At: float64(i)})
	}
	a, err := tuning.Compare(list, 0, tuning.Scatter{})
	return err != nil || a.Efficiency == 0 || a.Efficiency >= leastEfficiency
}
