package timetable_test

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"benchmeet/domain/timetable"
)

// proving says whether long simulations run in full.
func proving() bool { return os.Getenv("BENCHMEET_PROVE") != "" }

// numbers reads the whole numbers of a line; anything else is refused.
func numbers(t *testing.T, line string) []int {
	t.Helper()
	var out []int
	for _, f := range strings.Fields(line) {
		n, err := strconv.Atoi(f)
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		out = append(out, n)
	}
	return out
}

func lines(t *testing.T, path string) []string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []string
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := strings.TrimSpace(s.Text()); line != "" && !strings.HasPrefix(line, "#") {
			out = append(out, line)
		}
	}
	return out
}

func rows(t *testing.T, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for k, name := range all[0] {
			m[name] = row[k]
		}
		out = append(out, m)
	}
	return out
}

func atoi(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// readProject reads a file of PSPLIB. Jobs are numbered from 1.
func readProject(t *testing.T, path string) timetable.Problem {
	t.Helper()
	var p timetable.Problem
	part := ""
	for _, line := range lines(t, path) {
		switch {
		case strings.HasPrefix(line, "PRECEDENCE"), strings.HasPrefix(line, "REQUESTS"), strings.HasPrefix(line, "RESOURCEAVAIL"):
			part = line[:3]
			continue
		case strings.HasPrefix(line, "*"), strings.HasPrefix(line, "-"), strings.HasPrefix(line, "jobnr"), strings.HasPrefix(line, "R 1"):
			continue
		}
		switch part {
		case "PRE":
			f := numbers(t, line)
			p.Activities = append(p.Activities, timetable.Activity{ID: strconv.Itoa(f[0]), Needs: map[string]int{}})
			for _, s := range f[3:] {
				defer func() {
					p.Activities[s-1].After = append(p.Activities[s-1].After, strconv.Itoa(f[0]))
				}()
			}
		case "REQ":
			f := numbers(t, line)
			a := &p.Activities[f[0]-1]
			a.Duration = f[2]
			for k, n := range f[3:] {
				a.Needs[fmt.Sprint("R", k+1)] = n
			}
		case "RES":
			for k, n := range numbers(t, line) {
				p.Resources = append(p.Resources, timetable.Resource{Name: fmt.Sprint("R", k+1), Capacity: n})
			}
		}
	}
	return p
}

// readShop reads a job shop: machines are resources of one.
func readShop(t *testing.T, path string) timetable.Problem {
	t.Helper()
	all := lines(t, path)
	var p timetable.Problem
	for k := range numbers(t, all[0])[1] {
		p.Resources = append(p.Resources, timetable.Resource{Name: fmt.Sprint("M", k), Capacity: 1})
	}
	for j, line := range all[1:] {
		f := numbers(t, line)
		for k := 0; k < len(f); k += 2 {
			a := timetable.Activity{ID: fmt.Sprintf("%d.%d", j, k/2), Duration: f[k+1], Needs: map[string]int{fmt.Sprint("M", f[k]): 1}}
			if k > 0 {
				a.After = []string{fmt.Sprintf("%d.%d", j, k/2-1)}
			}
			p.Activities = append(p.Activities, a)
		}
	}
	return p
}

// machines are equal benches, each activity on one.
func machines(m int, durations []int, before [][]int, releases []int) timetable.Problem {
	p := timetable.Problem{Resources: []timetable.Resource{{Name: "bench", Capacity: m}}}
	for k := range m {
		p.Resources[0].Units = append(p.Resources[0].Units, fmt.Sprint("b", k+1))
	}
	for i, d := range durations {
		a := timetable.Activity{ID: strconv.Itoa(i + 1), Duration: d, Needs: map[string]int{"bench": 1}}
		if d == 0 {
			a.Needs = nil
		}
		if releases != nil {
			a.Release = releases[i]
		}
		if before != nil {
			for _, b := range before[i] {
				a.After = append(a.After, strconv.Itoa(b))
			}
		}
		p.Activities = append(p.Activities, a)
	}
	return p
}

// readMachines reads a file of machines, jobs and one time a line.
func readMachines(t *testing.T, path string) timetable.Problem {
	t.Helper()
	f := numbers(t, strings.Join(lines(t, path), " "))
	if len(f) != 2+f[1] {
		t.Fatalf("%s: %d numbers for %d jobs", path, len(f)-2, f[1])
	}
	return machines(f[0], f[2:], nil, nil)
}

// solved plans and checks, and says how long it took.
func solved(t *testing.T, name string, p timetable.Problem, rounds int) timetable.Plan {
	t.Helper()
	began := time.Now()
	plan, err := timetable.Solve(p, timetable.Options{Seed: 1, Rounds: rounds})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, f := range faults(p, plan) {
		t.Errorf("%s: %s", name, f)
	}
	t.Logf(
		"%-24s %5d, bound %5d, greedy %5d, %6d rounds, %.1f s, %s", name, plan.Makespan, plan.LowerBound, plan.Greedy, plan.Rounds,
		time.Since(began).Seconds(), plan.Why.Says(),
	)
	return plan
}

func TestProveProjects(t *testing.T) {
	excess, count := 0.0, 0
	for k, row := range rows(t, "testdata/rcpsp/optima.csv") {
		if !proving() && k%3 != 0 {
			continue
		}
		name := row["instance"]
		rounds := map[bool]int{true: 150_000, false: 4_000}[proving()]
		if row["activities"] == "60" {
			rounds = map[bool]int{true: 40_000, false: 1_500}[proving()]
		}
		plan := solved(t, name, readProject(t, filepath.Join("testdata/rcpsp", name)), rounds)
		lower, upper := atoi(t, row["lower"]), atoi(t, row["upper"])
		if plan.Makespan < lower || plan.LowerBound > upper {
			t.Errorf("%s: length %d and bound %d; known are %d to %d", name, plan.Makespan, plan.LowerBound, lower, upper)
		}
		if row["activities"] == "30" && plan.Makespan > upper {
			t.Errorf("%s: %d, the optimum is %d", name, plan.Makespan, upper)
		}
		if row["activities"] == "60" {
			excess += float64(plan.Makespan)/float64(upper) - 1
			count++
		}
	}
	t.Logf("j60: %.2f %% above the stored best on average", 100*excess/float64(count))
	if excess/float64(count) > 0.02 {
		t.Errorf("j60: %.2f %% above the stored best on average, want 2 at most", 100*excess/float64(count))
	}
}

func TestProveShops(t *testing.T) {
	for _, row := range rows(t, "testdata/jobshop/optima.csv") {
		name, best := row["instance"], atoi(t, row["optimum"])
		rounds := map[bool]int{true: 80_000, false: 3_000}[proving()]
		plan := solved(t, name, readShop(t, filepath.Join("testdata/jobshop", name)), rounds)
		most := best
		switch {
		case name == "ft10.txt" && proving():
			most = best * 103 / 100
		case name == "ft10.txt":
			most = best * 106 / 100
		case !proving() && name != "ft06.txt":
			most = best * 104 / 100 // a share of the rounds
		}
		if plan.Makespan < best || plan.LowerBound > best || plan.Makespan > most {
			t.Errorf("%s: length %d, bound %d; the optimum is %d, at most %d asked for", name, plan.Makespan, plan.LowerBound, best, most)
		}
	}
}

func TestProveMachines(t *testing.T) {
	for _, row := range rows(t, "testdata/pcmax/optima.csv") {
		name, best := row["instance"], atoi(t, row["best_makespan"])
		plan := solved(t, name, readMachines(t, filepath.Join("testdata/pcmax", name)), map[bool]int{true: 20_000, false: 8_000}[proving()])
		if plan.Makespan < best || plan.LowerBound > best || 100*plan.Makespan > 101*best {
			t.Errorf("%s: length %d, bound %d; the optimum is %d", name, plan.Makespan, plan.LowerBound, best)
		}
	}
	var worst []struct {
		Machines  int
		Durations []int
		Optimum   int
	}
	readJSON(t, "testdata/pcmax/worst-cases.json", &worst)
	for k, w := range worst {
		if plan := solved(t, fmt.Sprint("worst case ", k), machines(w.Machines, w.Durations, nil, nil), 2000); plan.Makespan != w.Optimum {
			t.Errorf("worst case %d: %d, the optimum is %d", k, plan.Makespan, w.Optimum)
		}
	}
}

func readJSON(t *testing.T, path string, into any) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		t.Fatal(err)
	}
}

func TestProveOrderedMachines(t *testing.T) {
	var all []struct {
		ID         string
		Machines   int
		Durations  []int
		Successors [][]int `json:"successors_1_based"`
		Releases   []int
		Optimum    int
	}
	readJSON(t, "testdata/prec/instances.json", &all)
	for _, x := range all {
		before := make([][]int, len(x.Durations))
		for i, list := range x.Successors {
			for _, s := range list {
				before[s-1] = append(before[s-1], i+1)
			}
		}
		plan := solved(t, x.ID, machines(x.Machines, x.Durations, before, x.Releases), map[bool]int{true: 50_000, false: 10_000}[proving()])
		if plan.Makespan != x.Optimum || plan.LowerBound > x.Optimum {
			t.Errorf("%s: length %d, bound %d; the optimum is %d", x.ID, plan.Makespan, plan.LowerBound, x.Optimum)
		}
	}
}
