package dayplan_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

const minute = 60 * second

// tasks gives the hall's day tasks; it opens at nine, which is openingUS.
func (h *hall) tasks(tasks ...day.Task) {
	h.give(meet.ChangePlan{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-01-28", Opens: "09:00", Tasks: tasks}})
}

// TestNoHeatInATask: on two benches a heat of two takes 240 s with its change-over, and its race
// is over after 195. After set-up and a briefing of 25 minutes in all racing begins; where a common
// lunch begins four minutes into it, one heat is over before that and the next waits for its end.
func TestNoHeatInATask(t *testing.T) {
	h := newHall(t, 1, 2)
	h.field("a", 6, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	h.tasks(day.Task{Kind: day.TaskSetUp, Minutes: 15}, day.Task{Kind: day.TaskBriefing, Minutes: 10}, day.Task{Kind: day.TaskLunch, Minutes: 30, At: "09:29"})
	rest := dayplan.RestOf(h.s, h.now, openingUS)
	plan := dayplan.Order(rest, dayplan.Seen(h.s))
	want := map[int]int64{1: 25, 2: 59, 3: 63}
	for i, x := range rest.Heats {
		if got := (plan.Heats[i].CallUS - openingUS) / minute; got != want[x.Number] {
			t.Errorf("heat %d is called %d minutes after the opening, want %d", x.Number, got, want[x.Number])
		}
		if x.Number == 2 && (plan.Heats[i].Why.Code != dayplan.CauseTask || plan.Heats[i].Why.Task != day.TaskLunch) {
			t.Errorf("heat 2 waits for %+v", plan.Heats[i].Why)
		}
	}
	// What is over holds nobody up.
	rest = dayplan.RestOf(h.s, openingUS+59*minute, openingUS)
	if len(rest.Stops) != 0 {
		t.Errorf("at its end the lunch is still ahead: %+v", rest.Stops)
	}
}

// TestALunchOfOnesOwn: one car that races three times in a row on one bench, four minutes each. Its
// lunch of 30 minutes lies between 9:00 and 9:40, so after the first heat it has to eat.
func TestALunchOfOnesOwn(t *testing.T) {
	h := newHall(t, 1, 1)
	h.field("a", 1, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	h.tasks(day.Task{Kind: day.TaskLunch, Minutes: 30, At: "09:00", Until: "09:40"})
	rest := dayplan.RestOf(h.s, h.now, openingUS)
	plan := dayplan.Order(rest, dayplan.Seen(h.s))
	if got := (plan.Heats[0].CallUS - openingUS) / minute; got != 0 {
		t.Errorf("the first heat is called after %d minutes: 36 are left for lunch behind it", got)
	}
	h.s.Plan.Tasks[0].Until = "09:33"
	rest = dayplan.RestOf(h.s, h.now, openingUS)
	plan = dayplan.Order(rest, dayplan.Seen(h.s))
	if got := (plan.Heats[0].CallUS - openingUS) / minute; got != 30 {
		t.Errorf("the first heat is called after %d minutes, and no 30 are left before or behind it", got)
	}
}

// TestTasksAreKept plans random meets with random tasks: no heat that is still to be called is on
// a bench in a common task, and each car has its lunch where its heats are known.
func TestTasksAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := newHall(t, rapid.Uint64().Draw(t, "seed"), rapid.IntRange(2, 6).Draw(t, "benches"))
		for n := range rapid.IntRange(1, 2).Draw(t, "divisions") {
			h.field(day.DivisionID(fmt.Sprint("d", n)), rapid.IntRange(4, 12).Draw(t, "entries"), false,
				programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "mean"}))
			h.give(meet.DrawRound{Division: day.DivisionID(fmt.Sprint("d", n))})
		}
		clock := func(name string, from int) string {
			at := from + rapid.IntRange(0, 60).Draw(t, name)
			return time.Unix(int64(at)*60, 0).UTC().Format("15:04")
		}
		h.tasks(
			day.Task{Kind: day.TaskSetUp, Minutes: rapid.IntRange(1, 20).Draw(t, "set-up")},
			day.Task{Kind: day.TaskLunch, Minutes: 20, At: clock("own lunch", 9*60), Until: "10:40"},
			day.Task{Kind: day.TaskPractice, Minutes: rapid.IntRange(1, 20).Draw(t, "practice"), At: clock("practice at", 9*60+30)},
		)
		rest := dayplan.RestOf(h.s, h.now, openingUS)
		plan := dayplan.Order(rest, dayplan.Seen(h.s))
		type at struct{ from, to int64 }
		raced := map[day.CarID][]at{}
		for i, x := range rest.Heats {
			slot := plan.Heats[i]
			if slot.EndUS == 0 {
				t.Fatalf("%s is not planned", x.ID)
			}
			for _, task := range h.s.Plan.TimedTasks() {
				from, to := openingUS+int64(task.FromMin)*minute, openingUS+int64(task.UntilMin)*minute
				if task.Common() && slot.CallUS < to && slot.EndUS > from {
					t.Fatalf("%s is on its benches from %d to %d, %s from %d to %d", x.ID, slot.CallUS, slot.EndUS, task.Kind, from, to)
				}
			}
			for _, e := range x.Entries {
				car := h.s.Entries[e].Car
				raced[car] = append(raced[car], at{slot.CallUS, slot.EndUS})
			}
		}
		for _, task := range h.s.Plan.TimedTasks() {
			if task.Common() {
				continue
			}
			from, to := openingUS+int64(task.FromMin)*minute, openingUS+int64(task.UntilMin)*minute
			for car, heats := range raced {
				// A piece of so many minutes begins with the lunch time or when a heat ends.
				begins := []int64{from}
				for _, x := range heats {
					begins = append(begins, max(from, x.to))
				}
				ate := false
				for _, b := range begins {
					free := b+20*minute <= to
					for _, x := range heats {
						free = free && (x.to <= b || x.from >= b+20*minute)
					}
					ate = ate || free
				}
				if !ate {
					t.Fatalf("car %s has no lunch between %d and %d: it races %v", car, from, to, heats)
				}
			}
		}
	})
}

// TestFewerAdultsTakeLonger: of calls and changes half waits for an adult, so that with two adults
// on ten benches they take half as long again as is usual, with four as long as usual; what was
// seen with two counts two thirds where four are here.
func TestFewerAdultsTakeLonger(t *testing.T) {
	for _, c := range []struct {
		benches, adults int
		want            float64
	}{{10, 2, 1.5}, {10, 4, 1}, {10, 5, 1}, {6, 2, 1.1}, {10, 20, 1}, {10, 0, 1}} {
		if got := dayplan.Crowd(c.benches, c.adults); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%d adults on %d benches: %g times as long, want %g", c.adults, c.benches, got, c.want)
		}
	}
	h := newHall(t, 1, 10)
	h.field("a", 20, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	usual := dayplan.Seen(h.s)
	h.give(meet.CountAdults{Adults: 2})
	if got := dayplan.Seen(h.s); 2*got.CallUS != 3*usual.CallUS || 2*got.ChangeUS != 3*usual.ChangeUS || got.PostUS != usual.PostUS {
		t.Errorf("with two adults: %+v, usual %+v", got, usual)
	}
	h.play(h.now + 900*second)
	two := dayplan.Seen(h.s)
	if two.Heats == 0 {
		t.Fatal("nothing was raced")
	}
	look, err := dayplan.Suppose(h.s, dayplan.Supposed{Adults: 4})
	if err != nil {
		t.Fatal(err)
	}
	four := dayplan.Seen(look)
	if diff := 3*four.CallUS/2 - two.CallUS; diff < -2 || diff > 2 {
		t.Errorf("a call takes %d µs with two adults and %d with four", two.CallUS, four.CallUS)
	}
	later := dayplan.Order(dayplan.RestOf(h.s, h.now, 0), two)
	sooner := dayplan.Order(dayplan.RestOf(look, h.now, 0), four)
	if later.FinishUS <= sooner.FinishUS {
		t.Errorf("the day ends at %d with two adults and at %d with four", later.FinishUS, sooner.FinishUS)
	}
}

// TestCutsAfterADrawAreThoseOfBefore: who chose to leave out the last stage may end the division
// before it; who chose one round less may end it a round early.
func TestCutsAfterADrawAreThoseOfBefore(t *testing.T) {
	list := []day.ChosenCut{
		{Code: "no-third-place", Division: "a", Stage: 2},
		{Code: "no-last-stage", Division: "a", Stage: 2},
		{Code: "fewer-rounds", Division: "b", Stage: 1},
	}
	for _, c := range []struct {
		cut  dayplan.Cut
		want int
	}{
		{dayplan.Cut{Code: "no-third-place", Division: "a", Stage: 2}, 1},
		{dayplan.Cut{Code: dayplan.CutAfterStage, Division: "a", Stage: 1}, 2},
		{dayplan.Cut{Code: dayplan.CutAfterStage, Division: "a", Stage: 2}, 0},
		{dayplan.Cut{Code: dayplan.CutAfterRound, Division: "b", Stage: 1}, 3},
		{dayplan.Cut{Code: "no-third-place", Division: "b", Stage: 2}, 0},
	} {
		if got := c.cut.OnList(list); got != c.want {
			t.Errorf("%+v is in place %d, want %d", c.cut, got, c.want)
		}
	}
}

// TestRehearse: forty cars of a class with a checklist need an inspector for 100 minutes; the hall
// has ten benches, so that is what the day waits for. Without a checklist it is not.
func TestRehearse(t *testing.T) {
	rehearsed := func(list ...day.CheckItem) dayplan.Rehearsal {
		h := newHall(t, 1, 10)
		h.field("a", 40, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
		h.tasks(day.Task{Kind: day.TaskSetUp, Minutes: 10})
		d := h.s.Divisions["a"]
		d.Class.Checklist = list
		h.s.Divisions["a"] = d
		before := h.s.Clone()
		r := dayplan.Rehearse(h.s, openingUS-24*60*minute, openingUS)
		if before.Seq != h.s.Seq || len(h.s.Adults) != 0 || h.s.Benches["b1"].OutOfService {
			t.Error("the day itself was changed")
		}
		return r
	}
	r := rehearsed(day.CheckItem{ID: "guard", Name: "Guard"})
	if r.Weak != dayplan.HitchInspection || r.Cars != 40 || r.InspectedUS != openingUS+(25+100)*minute {
		t.Errorf("weak is %q, %d cars, the last through after %d minutes", r.Weak, r.Cars, (r.InspectedUS-openingUS)/minute)
	}
	if len(r.Hitches) != 4 {
		t.Errorf("all four can happen, not only %+v", r.Hitches)
	}
	if r.FinishUS < r.InspectedUS || r.Bench != "b1" || r.Adults != 3 {
		t.Errorf("it ends at %d with bench %q dead and %d adults", r.FinishUS, r.Bench, r.Adults)
	}
	r = rehearsed()
	if r.Weak != dayplan.HitchLate || r.Cars != 0 || r.InspectedUS != 0 {
		t.Errorf("without a checklist weak is %q, %d cars", r.Weak, r.Cars)
	}
	for _, h := range r.Hitches {
		if h.Hitch == dayplan.HitchInspection {
			t.Error("no car waits for the inspector, and that costs something")
		}
		if h.Hitch == dayplan.HitchLate && h.AloneUS != 25*minute {
			t.Errorf("a start 25 minutes late costs %d s", h.AloneUS/second)
		}
	}
}
