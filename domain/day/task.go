package day

import (
	"time"

	"benchmeet/domain/refusal"
)

// Task is something that a day needs time for beside its races. While it lasts no heat is
// on the benches, but for a lunch that each child has for itself.
type Task struct {
	Kind TaskKind `json:"kind"`
	// Minutes is how long it takes, 1 to 600.
	Minutes int `json:"minutes"`
	// At is when it begins, HH:MM local; empty is behind the one before it, the first when
	// the hall opens.
	At string `json:"at,omitempty"`
	// Until is set for a lunch that each child has for itself: so many minutes in one piece
	// between At and then, HH:MM local, between two of its heats.
	Until string `json:"until,omitempty"`
}

// TaskKind says what a task is.
type TaskKind string

// Tasks of a plan; packing and the prize-giving it has as minutes before its end.
const (
	TaskSetUp      TaskKind = "set-up"
	TaskBenchCheck TaskKind = "bench-check" // the reference car on each bench
	TaskPractice   TaskKind = "practice"
	TaskBriefing   TaskKind = "briefing"
	TaskLunch      TaskKind = "lunch"
)

// mostTasks bounds the tasks of a plan.
const mostTasks = 20

// TimedTask is a task with its place in the day, in minutes from when the hall opens.
type TimedTask struct {
	Task
	FromMin, UntilMin int
}

// Common says whether the hall stands still for it.
func (t Task) Common() bool { return t.Until == "" }

// morning says whether racing waits for it.
func (t Task) morning() bool { return t.Kind != TaskLunch }

// TimedTasks are the tasks of a plan in its order; none of a plan that does not say when the
// hall opens.
func (p Plan) TimedTasks() []TimedTask {
	opens, known := minuteOf(p.Opens)
	if !known {
		return nil
	}
	var out []TimedTask
	free := 0
	for _, t := range p.Tasks {
		from := free
		if at, fixed := minuteOf(t.At); fixed {
			from = at - opens
		}
		until := from + t.Minutes
		if u, said := minuteOf(t.Until); said {
			until = u - opens
		}
		if t.morning() {
			free = until
		}
		out = append(out, TimedTask{t, from, until})
	}
	return out
}

// minuteOf is an hour as minutes of its day; false for what is none.
func minuteOf(hour string) (int, bool) {
	t, err := time.Parse("15:04", hour)
	return t.Hour()*60 + t.Minute(), err == nil
}

// checkTasks refuses tasks that cannot be told apart from nonsense: an unknown kind, a length
// or an hour that is none, a lunch without its time, one that does not fit between its hours.
func (p Plan) checkTasks() error {
	if len(p.Tasks) > mostTasks {
		return refusal.New("plan-tasks", "most", mostTasks)
	}
	if len(p.Tasks) > 0 && p.Opens == "" {
		return refusal.New("plan-task-opens")
	}
	for _, t := range p.Tasks {
		switch t.Kind {
		case TaskSetUp, TaskBenchCheck, TaskPractice, TaskBriefing, TaskLunch:
		default:
			return refusal.New("plan-task-kind", "kind", t.Kind)
		}
		if t.Minutes < 1 || t.Minutes > mostTaskMin {
			return refusal.New("plan-task-minutes", "most", mostTaskMin)
		}
		for _, hour := range []string{t.At, t.Until} {
			if _, is := minuteOf(hour); hour != "" && !is {
				return refusal.New("plan-hour", "hour", hour)
			}
		}
		if t.Kind == TaskLunch && t.At == "" || t.Until != "" && t.Kind != TaskLunch {
			return refusal.New("plan-lunch-time")
		}
	}
	closes, closing := minuteOf(p.Closes)
	opens, _ := minuteOf(p.Opens)
	for _, t := range p.TimedTasks() {
		switch {
		case t.UntilMin-t.FromMin < t.Minutes:
			return refusal.New("plan-lunch-window", "minutes", t.Minutes, "at", t.At, "until", t.Until)
		case t.FromMin < 0 || closing && opens+t.UntilMin > closes || !closing && opens+t.UntilMin > 24*60:
			return refusal.New("plan-task-hours", "minutes", t.Minutes)
		}
	}
	return nil
}
