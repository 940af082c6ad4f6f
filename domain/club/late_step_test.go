package club_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/workshop"
)

var (
	slowGear  = workshop.Setup{Driving: 8, Driven: 40}
	quickGear = workshop.Setup{Driving: 10, Driven: 40}
)

// TestLateStep: a change that comes late counts from when it was noted, and the runs of the
// car since then go over, unless the instant cannot be true.
func TestLateStep(t *testing.T) {
	const second = int64(1_000_000)
	for _, tt := range []struct {
		name string
		// between happens behind the first run.
		between []club.Command
		// noted is when, for that end of the first run.
		noted func(firstUS, nowUS int64) int64
		want  string // the fittings of the three runs
	}{
		{"behind the first run", nil, func(first, _ int64) int64 { return first + 1 }, "1 2 2"},
		{"at the instant of the first run", nil, func(first, _ int64) int64 { return first }, "2 2 2"},
		{"now", nil, func(_, now int64) int64 { return now }, "1 1 1"},
		{"not said", nil, func(int64, int64) int64 { return 0 }, "1 1 1"},
		{"still to come", nil, func(_, now int64) int64 { return now + second }, "1 1 1"},
		{"a day ago and more", nil, func(_, now int64) int64 { return now - 24*3600*second }, "1 1 1"},
		{"of a clock that begins with 1970", nil, func(int64, int64) int64 { return 5 * second }, "1 1 1"},
		{"before the step of before", nil, func(first, _ int64) int64 { return first - 3*second }, "1 1 1"},
		{
			"before the comparison was announced",
			[]club.Command{club.PlanComparison{Number: 1, From: 0, To: 1, Fittings: 8, RunsAFitting: 1}},
			func(first, _ int64) int64 { return first }, "1 2 2",
		},
		{
			"before the session of the car",
			[]club.Command{
				club.ClosePractice{Session: "s"},
				club.OpenPractice{ID: "t", Benches: []day.BenchID{"b1"}, Settings: workshop.Settings{RaceUS: 15 * second, Turn: 2, HandsFree: true}},
				club.JoinQueue{Session: "t", Number: 1},
			},
			func(first, _ int64) int64 { return first }, "1 2 2",
		},
		{
			"before a session that the car is not in",
			[]club.Command{
				club.RegisterBench{Bench: bench("b9", 9)},
				club.OpenPractice{ID: "t", Benches: []day.BenchID{"b9"}, Settings: workshop.Settings{RaceUS: 15 * second, Turn: 2, HandsFree: true}},
			},
			func(first, _ int64) int64 { return first }, "2 2 2",
		},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a := newAfternoon(t, 1)
			a.join(1)
			a.do(club.ChangeCar{Number: 1, Setup: slowGear})
			a.run("b1")
			first := a.nowUS
			for _, c := range tt.between {
				a.do(c)
			}
			a.run("b1")
			a.run("b1")
			events := a.do(club.ChangeCar{Number: 1, Setup: quickGear, NotedUS: tt.noted(first, a.nowUS+second)})
			got := ""
			moved := 0
			for _, r := range a.History("car-1", 9) {
				got = fmt.Sprint(r.Fitting, " ", got)
				if r.Restated {
					moved++
				}
				if r.State != r.Fitting {
					t.Errorf("a run of fitting %d is in state %d", r.Fitting, r.State)
				}
			}
			if got != tt.want+" " {
				t.Errorf("the fittings of the runs are %s", got)
			}
			step := a.Lives.At("car-1").Now()
			if came := moved > 0; came != (step.CameUS == a.nowUS) || came != (step.AtUS < a.nowUS) || came != (len(events) == 2) {
				t.Errorf("%d runs go over, by the step %+v and the events %v", moved, step, events)
			}
			if says := faultOf(a.State); says != "" {
				t.Error(says)
			}
		})
	}
}

// TestLateStepAndWrongCar: a run that is moved away and back is in the state that is known
// by then, and one that was moved to the car goes over with the rest.
func TestLateStepAndWrongCar(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1)
	a.do(club.ChangeCar{Number: 1, Setup: slowGear})
	noted := a.nowUS + 1
	run := a.Armed["b1"].Run
	a.do(club.GuessRun{Bench: "b1", DistanceUM: 28_000_000})
	a.run("b1")
	other := a.Armed["b1"].Run
	a.made("b1", 2, drove)
	a.do(club.MovePractice{Run: other, Number: 1})
	a.do(club.MovePractice{Run: run, Number: 2})
	a.do(club.ChangeCar{Number: 1, Setup: quickGear, NotedUS: noted})
	a.do(club.MovePractice{Run: run, Number: 1})
	a.do(club.JudgePractice{Run: run, Drop: workshop.Helped})
	for _, id := range []day.RunID{run, other} {
		if r, _ := a.PracticeRun(id); r.Car != "car-1" || r.State != 2 || r.Fitting != 2 || !r.Restated {
			t.Errorf("a run is %+v", r)
		}
	}
	if r, _ := a.PracticeRun(run); r.Dropped != workshop.Helped || r.GuessUM != 28_000_000 {
		t.Errorf("a run that came back is %+v", r)
	}
	if says := faultOf(a.State); says != "" {
		t.Error(says)
	}
}

// TestLateAsAtOnce plays afternoons twice: with each change told at once, and with changes
// that phones tell later, car by car in their order. In the end each run is in the same
// state, and each step counts from the same instant.
func TestLateAsAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const cars = 2
		now := int64(clubStart)
		type phone struct{ waits []club.ChangeCar }
		atOnce, late := club.New(), club.New()
		phones := make([]phone, cars+1)
		order := func(s *club.State, c club.Command) {
			events, err := club.Decide(s, c, meet.Meta{Actor: "v", NowUS: now})
			if err != nil {
				t.Fatalf("%T %+v: %v", c, c, err)
			}
			for _, e := range events {
				club.Evolve(s, e, now)
			}
		}
		both := func(c club.Command) {
			order(atOnce, c)
			order(late, c)
		}
		back := func(number int) {
			for _, c := range phones[number].waits {
				order(late, c)
			}
			phones[number].waits = nil
		}
		both(club.RegisterBench{Bench: bench("b1", 1)})
		for number := 1; number <= cars; number++ {
			both(club.ChangeCar{Number: number, Setup: slowGear})
		}
		var runs []day.RunID
		for range rapid.IntRange(1, 40).Draw(t, "things") {
			now += 1_000_000
			number := rapid.IntRange(1, cars).Draw(t, "car")
			switch rapid.SampledFrom([]string{"run", "run", "change", "back", "move", "drop"}).Draw(t, "what") {
			case "run":
				id := day.RunID(fmt.Sprintf("free-%d", len(runs)))
				runs = append(runs, id)
				both(club.RecordPractice{ID: id, Bench: "b1", Number: number, Boot: "aa", Trace: string(id), Figures: drove})
			case "change":
				c := club.ChangeCar{Number: number, Setup: workshop.Setup{Driving: rapid.IntRange(8, 11).Draw(t, "teeth"), Driven: 40}, Refit: true}
				order(atOnce, c)
				c.NotedUS = now
				phones[number].waits = append(phones[number].waits, c)
			case "back":
				back(number)
			case "move":
				if len(runs) > 0 {
					both(club.MovePractice{Run: rapid.SampledFrom(runs).Draw(t, "run"), Number: number})
				}
			case "drop":
				if len(runs) > 0 {
					both(club.JudgePractice{Run: rapid.SampledFrom(runs).Draw(t, "run"), Drop: workshop.Helped})
				}
			}
		}
		now += 1_000_000
		for number := range phones {
			back(number)
		}
		type stands struct {
			Car            day.CarID
			State, Fitting int
			Dropped        workshop.Drop
		}
		of := func(s *club.State) map[day.RunID]stands {
			out := map[day.RunID]stands{}
			for r := range s.Practised() {
				out[r.ID] = stands{r.Car, r.State, r.Fitting, r.Dropped}
			}
			return out
		}
		if diff := cmp.Diff(of(atOnce), of(late)); diff != "" {
			t.Fatalf("the runs stand otherwise (-at once +late)\n%s", diff)
		}
		for number := 1; number <= cars; number++ {
			id := atOnce.Numbers.At(number)
			want, got := atOnce.Lives.At(id).Steps, slices.Clone(late.Lives.At(id).Steps)
			for i := range got {
				got[i].CameUS = 0
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Fatalf("the steps of car %d (-at once +late)\n%s", number, diff)
			}
		}
		if says := faultOf(late); says != "" {
			t.Fatal(says)
		}
	})
}
