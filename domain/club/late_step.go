package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/workshop"
)

// latestStepUS is how late a step may come to count from when it was noted, in µs: a phone
// that was cut off for a whole afternoon is back the next morning. What is said to be older
// was noted by a clock that is wrong.
const latestStepUS = 24 * 3600 * 1_000_000

// countsFrom is from when a step counts that was noted at an instant, 0 where that is now.
// Clocks of phones jump, so an instant that cannot be true is left alone: one that is still
// to come, is older than a day, or lies before the car's last step, for the runs since then
// are of what was noted later. Of an instant before the car's newest practice session or
// announced comparison the step counts from the begin of that.
func countsFrom(s *State, car day.CarID, notedUS, nowUS int64) int64 {
	life := s.Lives.At(car)
	if notedUS >= nowUS || notedUS <= nowUS-latestStepUS || notedUS < life.Now().AtUS {
		return 0
	}
	from := max(notedUS, 0)
	if n := len(life.Plans); n > 0 {
		from = max(from, life.Plans[n-1].AtUS)
	}
	for _, one := range slices.Backward(s.Sessions) {
		if _, had := one.Had[car]; had || slices.Contains(one.Queue, car) {
			return max(from, one.OpenedUS)
		}
	}
	return from
}

// PracticeRestated says that runs were made in another state of their car than was known
// when they came.
type PracticeRestated struct {
	Car     day.CarID   `json:"car"`
	State   int         `json:"state,omitempty"`
	Fitting int         `json:"fitting,omitempty"`
	Runs    []day.RunID `json:"runs"` // oldest first
	By      string      `json:"by"`
}

// restated names the runs that a car has made since a step of it that came late, if there
// are any.
func restated(s *State, e CarChanged, m meet.Meta) []Event {
	var runs []day.RunID
	for r := range s.PractisedBy(e.Car) {
		if r.AtUS < e.NotedUS {
			break
		}
		runs = append(runs, r.ID)
	}
	if runs == nil {
		return nil
	}
	slices.Reverse(runs)
	return []Event{PracticeRestated{Car: e.Car, State: e.State, Fitting: e.Fitting, Runs: runs, By: m.Actor}}
}

// putBack is for a run that is moved back to its own car: it is in the state that the car is
// known to have been in, where that was learnt after the run.
func putBack(s *State, run day.RunID, car day.CarID, step workshop.Step, m meet.Meta) []Event {
	r := s.Runs.At(run)
	if r.Car != car || r.State == step.State && r.Fitting == step.Fitting {
		return nil
	}
	return []Event{PracticeRestated{Car: car, State: step.State, Fitting: step.Fitting, Runs: []day.RunID{run}, By: m.Actor}}
}

// Type is the name in the log.
func (PracticeRestated) Type() string { return "PracticeRestated" }

func (e PracticeRestated) apply(s *State) {
	for _, id := range e.Runs {
		r, there := s.Runs.Get(id)
		if !there {
			continue
		}
		was := *s.shown(r)
		mark := s.Marks.At(id)
		mark.Restated, mark.State, mark.Fitting = true, e.State, e.Fitting
		s.Marks = s.Marks.WithBy(s.owner, id, mark)
		s.remarked(was)
	}
}
