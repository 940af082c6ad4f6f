package timetable_test

import (
	"fmt"
	"strconv"
	"testing"

	"benchmeet/domain/timetable"
)

// graham is a set of tasks that simple rules plan worse when the rules are relaxed.
type graham struct {
	Machines     int
	Durations    []int
	Predecessors [][]int `json:"predecessors_1_based"`
	List         []int
	Makespan     int
	ID           string
}

// greedyStarts is list scheduling as Graham has it: whenever a machine is free it takes
// the first ready task of the list; ends count before starts.
func (g graham) greedyStarts() (map[string]int, int) {
	starts, end := map[string]int{}, make([]int, len(g.Durations))
	free := make([]int, g.Machines)
	last := 0
	for t := 0; len(starts) < len(g.Durations); t++ {
		for m := range free {
			for _, task := range g.List {
				name := strconv.Itoa(task)
				if _, done := starts[name]; done || free[m] > t || !g.ready(task, t, starts, end) {
					continue
				}
				starts[name], end[task-1] = t, t+g.Durations[task-1]
				free[m] = end[task-1]
				last = max(last, end[task-1])
			}
		}
	}
	return starts, last
}

func (g graham) ready(task, t int, starts map[string]int, end []int) bool {
	for _, b := range g.Predecessors[task-1] {
		if _, begun := starts[strconv.Itoa(b)]; !begun || end[b-1] > t {
			return false
		}
	}
	return true
}

// Each change relaxes the rules, and makes the simple rule's day longer; planned again
// from the standing plan it never is, whatever the plan and without any search.
func TestRelaxedRulesNeverMakeTheDayLonger(t *testing.T) {
	var file struct {
		Base  graham
		Cases []graham
	}
	readJSON(t, "testdata/prec/graham-1969.json", &file)
	var standing map[string]int
	for k, c := range file.Cases {
		if c.Durations == nil {
			c.Durations = file.Base.Durations
		}
		if c.Predecessors == nil {
			c.Predecessors = file.Base.Predecessors
		}
		starts, length := c.greedyStarts()
		if length != c.Makespan {
			t.Fatalf("%s: the list gives %d, published is %d", c.ID, length, c.Makespan)
		}
		if k == 0 {
			standing = starts
		}
		p := machines(c.Machines, c.Durations, c.Predecessors, nil)
		plan, err := timetable.Solve(p, timetable.Options{Rounds: 1, Standing: standing})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults(p, plan) {
			t.Errorf("%s: %s", c.ID, f)
		}
		if plan.Makespan > file.Cases[0].Makespan {
			t.Errorf("%s: %d, the standing plan has %d", c.ID, plan.Makespan, file.Cases[0].Makespan)
		}
	}
}

// A bench more, on made-up meets: from the plan of a longer search, with no search.
func TestBenchAddedNeverMakesTheDayLonger(t *testing.T) {
	for k, s := range shapes(20) {
		s.entries, s.divisions = 24+s.entries/10, 1
		p := meet(s)
		first, err := timetable.Solve(p, timetable.Options{Seed: uint64(k), Rounds: 60})
		if err != nil {
			t.Fatal(err)
		}
		p.Resources[0].Capacity++
		p.Resources[0].Units = append(p.Resources[0].Units, fmt.Sprint("b", p.Resources[0].Capacity))
		again, err := timetable.Solve(p, timetable.Options{Seed: 99, Rounds: 1, Standing: first.Starts})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faults(p, again) {
			t.Errorf("meet %d: %s", k, f)
		}
		if again.Makespan > first.Makespan {
			t.Errorf("meet %d: %d with a bench more, %d before", k, again.Makespan, first.Makespan)
		}
	}
}
