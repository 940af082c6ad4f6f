package club_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// afternoon gives orders to a club and says what its benches wait for.
type afternoon struct {
	t testing.TB
	*club.State
	nowUS int64
	runs  int
}

// newAfternoon is a session of turns of two runs on so many benches.
func newAfternoon(t testing.TB, benches int) *afternoon {
	t.Helper()
	a := &afternoon{t: t, State: club.New(), nowUS: clubStart}
	var ids []day.BenchID
	for n := range benches {
		ids = append(ids, day.BenchID(fmt.Sprintf("b%d", n+1)))
		a.do(club.RegisterBench{Bench: bench(ids[n], n+1)})
	}
	a.do(club.OpenPractice{ID: "s", Benches: ids, Settings: workshop.Settings{RaceUS: 15_000_000, Turn: 2, HandsFree: true}})
	return a
}

func (a *afternoon) do(c club.Command) []club.Event {
	a.t.Helper()
	a.nowUS += 1_000_000
	events, err := club.Decide(a.State, c, meet.Meta{Actor: "v", NowUS: a.nowUS})
	if err != nil {
		a.t.Fatalf("%T: %v", c, err)
	}
	for _, e := range events {
		club.Evolve(a.State, e, a.nowUS)
	}
	return events
}

func (a *afternoon) join(numbers ...int) {
	a.t.Helper()
	for _, n := range numbers {
		a.do(club.JoinQueue{Session: "s", Number: n})
	}
}

// drove is a run of 30 m, which takes 15 s at 2 m/s.
var drove = measure.Figures{Method: "benchmeet-measure/2", DistanceUM: 30_000_000, MaxUMPS: 2_000_000}

// run makes the run that a bench is armed for, and says which car the bench waits for then.
func (a *afternoon) run(bench day.BenchID) string {
	a.t.Helper()
	return a.made(bench, 0, drove)
}

func (a *afternoon) made(bench day.BenchID, number int, f measure.Figures) string {
	a.t.Helper()
	a.runs++
	a.do(club.RecordPractice{ID: a.Armed[bench].Run, Bench: bench, Number: number, Boot: "aa", Trace: fmt.Sprint(a.runs), Figures: f})
	return a.waits(bench)
}

// waits is which car a bench waits for: its number, and "+" for the second run of a turn.
func (a *afternoon) waits(bench day.BenchID) string {
	armed, there := a.Armed[bench]
	if !there {
		return "nobody"
	}
	out := fmt.Sprint(a.Cars.At(armed.Car).Number) + strings.Repeat("+", max(0, armed.Turn-1))
	if armed.Again {
		out += " again"
	}
	return out
}

func (a *afternoon) says(what, got, want string) {
	a.t.Helper()
	if got != want {
		a.t.Fatalf("%s the bench waits for %s, not for %s", what, got, want)
	}
}

// TestTurns: two runs a turn, then to the back; who comes late has no turns to catch up
// with, and is before who has had more runs in the same round.
func TestTurns(t *testing.T) {
	a := newAfternoon(t, 1)
	a.says("before anybody has come", a.waits("b1"), "nobody")
	a.join(1, 2, 3)
	a.says("after the first has come", a.waits("b1"), "1")
	for i, want := range []string{"1+", "2", "2+", "3", "3+", "1"} {
		a.says(fmt.Sprintf("after run %d", i+1), a.run("b1"), want)
	}
	a.join(4) // all others had one turn, two runs
	a.says("in a turn", a.run("b1"), "1+")
	a.says("after the turn", a.run("b1"), "4")
	a.run("b1")
	a.says("of the same round", a.run("b1"), "2")
}

// TestSeveralBenches: no car is on two benches.
func TestSeveralBenches(t *testing.T) {
	a := newAfternoon(t, 2)
	a.join(1, 2, 3)
	a.says("with two benches", a.waits("b1")+" and "+a.waits("b2"), "1 and 2")
	a.run("b1")
	a.says("where others are on", a.run("b1"), "3")
	a.run("b2")
	a.says("where others are on", a.run("b2"), "1")
}

// TestAgain: where nobody waits the same car goes on, until somebody comes.
func TestAgain(t *testing.T) {
	a := newAfternoon(t, 1)
	a.do(club.ArmPractice{Bench: "b1", Number: 7, RaceUS: 15_000_000})
	a.run("b1")
	a.says("where nobody waits", a.run("b1"), "7 again")
	was := a.Armed["b1"].Run
	a.join(8)
	a.says("as soon as somebody comes", a.waits("b1"), "8")
	// The run that car 7 had begun meanwhile is its own, and the bench still waits for 8.
	a.do(club.RecordPractice{ID: was, Bench: "b1", Boot: "aa", Trace: "late", Figures: drove})
	if r, _ := a.PracticeRun(was); a.Cars.At(r.Car).Number != 7 || r.RaceUS != 15_000_000 || r.Session != "s" {
		t.Errorf("a run that was under way is %+v", r)
	}
	a.says("after it", a.waits("b1"), "8")
}

// TestSkippingCostsOnePlace, also for who is on the bench already.
func TestSkippingCostsOnePlace(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1, 2, 3)
	a.do(club.SkipTurn{Session: "s", Number: 1})
	a.says("after the first has skipped", a.waits("b1"), "2")
	a.do(club.SkipTurn{Session: "s", Number: 1})
	if diff := cmp.Diff([]day.CarID{"car-2", "car-3", "car-1"}, a.Sessions[0].Queue); diff != "" {
		t.Error(diff)
	}
	if events := a.do(club.SkipTurn{Session: "s", Number: 1}); len(events) > 0 {
		t.Errorf("who is last skips: %v", events)
	}
}

// TestLeaving: a bench does not wait for who has gone home, and who comes back gains no
// turn by it.
func TestLeaving(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1, 2)
	a.do(club.LeaveQueue{Session: "s", Number: 1})
	a.says("after the first has left", a.waits("b1"), "2")
	a.run("b1")
	a.run("b1")
	a.do(club.LeaveQueue{Session: "s", Number: 2})
	a.says("after all have left", a.waits("b1"), "nobody")
	a.join(3)
	a.join(2)
	if had := a.Sessions[0].Had["car-2"]; had != (workshop.Had{Turns: 1, Runs: 2}) {
		t.Errorf("who came back has had %+v", had)
	}
}

// TestSpinsAndWrongCars: a finger's spin and another car leave the turn as it was.
func TestSpinsAndWrongCars(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1, 2)
	// Half a metre with a top speed of 2 m/s is a quarter of a second.
	spin := measure.Figures{Method: "benchmeet-measure/2", DistanceUM: 500_000, MaxUMPS: 2_000_000}
	a.says("after a spin", a.made("b1", 0, spin), "1")
	if r := a.Newest(1)[0]; !r.Short || r.Counts() || a.Sessions[0].Had["car-1"].Runs != 0 || a.Sessions[0].DistanceUM != 0 {
		t.Errorf("a spin counts: %+v", r)
	}
	a.says("after a run of another car", a.made("b1", 2, drove), "1")
	a.says("after its own", a.run("b1"), "1+")
	if a.Sessions[0].DistanceUM != 60_000_000 {
		t.Errorf("two runs of 30 m are %d µm", a.Sessions[0].DistanceUM)
	}
}

// TestStatesOfRuns: a run belongs to the state of the car at its moment, after it was moved
// too, and a guess to the child that made it.
func TestStatesOfRuns(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1)
	gear := workshop.Setup{Driving: 10, Driven: 40}
	a.do(club.ChangeCar{Number: 2, Setup: gear})
	a.do(club.GuessRun{Bench: "b1", DistanceUM: 28_000_000})
	first := a.Armed["b1"].Run
	a.run("b1")
	a.do(club.ChangeCar{Number: 2, Setup: workshop.Setup{Driving: 12, Driven: 38}})
	a.do(club.ChangeCar{Number: 2, Setup: gear})
	a.do(club.ChangeCar{Number: 2, Setup: gear, Refit: true})
	if now := a.Lives.At("car-2").Now(); now.State != 1 || now.Fitting != 4 {
		t.Errorf("a setup that comes back is %+v", now)
	}
	a.do(club.MovePractice{Run: first, Number: 2})
	if r, _ := a.PracticeRun(first); r.Car != "car-2" || r.State != 1 || r.Fitting != 1 || r.GuessUM != 0 {
		t.Errorf("moved, it is %+v", r)
	}
	a.do(club.MovePractice{Run: first, Number: 1})
	if r, _ := a.PracticeRun(first); r.Car != "car-1" || r.State != 0 || r.GuessUM != 28_000_000 {
		t.Errorf("moved back, it is %+v", r)
	}
	if len(a.History("car-2", 9)) != 0 || len(a.History("car-1", 9)) != 1 {
		t.Error("the lists of the cars do not follow")
	}
}

// TestCloseTakesBack: nothing stays armed, and a run that is under way is kept as it was
// asked for.
func TestCloseTakesBack(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1)
	run := a.Armed["b1"].Run
	a.do(club.ClosePractice{Session: "s"})
	a.says("after the end", a.waits("b1"), "nobody")
	a.do(club.RecordPractice{ID: run, Bench: "b1", Boot: "aa", Trace: "late", Figures: drove})
	if r, _ := a.PracticeRun(run); r.Car != "car-1" || r.Session != "s" {
		t.Errorf("it is %+v", r)
	}
	a.says("after that", a.waits("b1"), "nobody")
}

// TestLateOrders: a phone that was cut off speaks of a run that is over; the next car has
// neither its guess nor its stop.
func TestLateOrders(t *testing.T) {
	a := newAfternoon(t, 1)
	a.join(1, 2)
	a.run("b1")
	second := a.Armed["b1"].Run
	a.do(club.GuessRun{Bench: "b1", DistanceUM: 28_000_000, Run: second})
	a.says("after the turn", a.run("b1"), "2")
	if r, _ := a.PracticeRun(second); r.GuessUM != 28_000_000 {
		t.Errorf("a guess of the run that it names is lost: %+v", r)
	}
	_, err := club.Decide(a.State, club.GuessRun{Bench: "b1", DistanceUM: 29_000_000, Run: second}, meet.Meta{Actor: "v", NowUS: a.nowUS})
	if no, is := refusal.As(err); !is || no.Code != "guess-late" {
		t.Errorf("a guess of a run that is over: %v", err)
	}
	if events := a.do(club.CancelPractice{Bench: "b1", Run: second}); len(events) != 0 {
		t.Errorf("a late stop gives %v", events)
	}
	a.says("after a late stop", a.waits("b1"), "2")
	a.do(club.CancelPractice{Bench: "b1", Run: a.Armed["b1"].Run})
	a.says("after its own stop", a.waits("b1"), "nobody")
}

// TestAfternoonRefuses what cannot be, and changes nothing.
func TestAfternoonRefuses(t *testing.T) {
	a := newAfternoon(t, 1)
	a.do(club.RegisterCar{Car: club.Car{ID: "ref", Number: 90, Reference: true}})
	set := workshop.Settings{RaceUS: 15_000_000, Turn: 2}
	longer := set
	longer.Turn = workshop.MostTurn + 1
	for _, tt := range []struct {
		name string
		give club.Command
		code refusal.Code
	}{
		{"a bench twice", club.SetPractice{Session: "s", Benches: []day.BenchID{"b1", "b1"}, Settings: set}, "practice-benches"},
		{"no bench", club.SetPractice{Session: "s", Settings: set}, "practice-benches"},
		{"a bench of another session", club.OpenPractice{ID: "t", Benches: []day.BenchID{"b1"}, Settings: set}, "practice-open"},
		{"a turn that never ends", club.SetPractice{Session: "s", Benches: []day.BenchID{"b1"}, Settings: longer}, "practice-settings"},
		{"an id again", club.OpenPractice{ID: "s", Benches: []day.BenchID{"b1"}, Settings: set}, "practice-open"},
		{"no session", club.JoinQueue{Session: "x", Number: 1}, "no-practice"},
		{"no number", club.JoinQueue{Session: "s"}, "car-number"},
		{"who does not wait", club.SkipTurn{Session: "s", Number: 5}, "queue-not-in"},
		{"a guess of nothing", club.GuessRun{Bench: "b1", DistanceUM: 5}, "guess-none"},
		{"no guess", club.GuessRun{Bench: "b1"}, "guess-range"},
		{"half a gear", club.ChangeCar{Number: 1, Setup: workshop.Setup{Driving: 3}}, "setup-teeth"},
		{"a wheel of a lorry", club.ChangeCar{Number: 1, Setup: workshop.Setup{WheelUM: 1_000_001}}, "setup-range"},
		{"a word of nobody", club.ChangeCar{Number: 1, Setup: workshop.Setup{Tyres: "wood"}}, "setup-word"},
		{"a car that compares benches", club.ChangeCar{Number: 90}, "setup-reference"},
		{"no run", club.MovePractice{Run: "x", Number: 1}, "no-practice-run"},
		{"no run to judge", club.JudgePractice{Run: "x"}, "no-practice-run"},
		{"no car", club.PlanComparison{Number: 1, From: 0, To: 1, Fittings: 8, RunsAFitting: 1}, "no-car"},
		{"no states", club.PlanComparison{Number: 90, From: 0, To: 1, Fittings: 8, RunsAFitting: 1}, "compare-states"},
	} {
		_, err := club.Decide(a.State, tt.give, meet.Meta{Actor: "v", NowUS: a.nowUS})
		if no, is := refusal.As(err); !is || no.Code != tt.code {
			t.Errorf("%s: %v, want %s", tt.name, err, tt.code)
		}
	}
}
