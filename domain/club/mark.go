package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// Drop says why a run does not count.
type Drop string

// Why a run does not count.
const (
	DropOffRollers Drop = "off-rollers" // the car left the rollers
	DropHelped     Drop = "helped"      // somebody pushed or held it
	DropMistake    Drop = "mistake"     // made by mistake
	DropOther      Drop = "other"
)

var drops = []Drop{DropOffRollers, DropHelped, DropMistake, DropOther}

// Mark is what was said of a run after it was recorded.
type Mark struct {
	// Moved says that it is a run of Car, which was then in State and Fitting.
	Moved   bool      `json:"moved,omitempty"`
	Car     day.CarID `json:"car,omitempty"`
	State   int       `json:"state,omitempty"`
	Fitting int       `json:"fitting,omitempty"`
	Dropped Drop      `json:"dropped,omitempty"`
}

// MovePractice says that a run was made by another car than was asked for: the wrong car
// stood on the roller. Moving it again puts it back.
type MovePractice struct {
	Run    day.RunID
	Number int
}

// PracticeMoved says whose run it is, and in which state that car was.
type PracticeMoved struct {
	Run     day.RunID `json:"run"`
	Car     day.CarID `json:"car"`
	State   int       `json:"state,omitempty"`
	Fitting int       `json:"fitting,omitempty"`
	By      string    `json:"by"`
}

func (c MovePractice) decide(s *State, m meet.Meta) ([]Event, error) {
	r, there := s.PracticeRun(c.Run)
	switch {
	case !there:
		return nil, refusal.New("no-practice-run", "run", c.Run)
	case r.Reference != nil:
		return nil, refusal.New("reference-moved")
	}
	car, out, err := s.numbered(c.Number, m)
	if err != nil || car == r.Car {
		return nil, err
	}
	step := s.Lives.At(car).At(r.AtUS)
	return append(out, PracticeMoved{Run: c.Run, Car: car, State: step.State, Fitting: step.Fitting, By: m.Actor}), nil
}

// Type is the name in the log.
func (PracticeMoved) Type() string { return "PracticeMoved" }

func (e PracticeMoved) apply(s *State) {
	r, there := s.Runs.Get(e.Run)
	if !there {
		return
	}
	was := s.shown(r)
	mark := s.Marks.At(e.Run)
	if mark.Moved {
		without := slices.DeleteFunc(slices.Clone(s.moved.At(mark.Car)), func(id day.RunID) bool { return id == e.Run })
		s.moved = s.moved.WithBy(s.owner, mark.Car, without)
	}
	mark = Mark{Dropped: mark.Dropped}
	if e.Car != r.Car {
		mark.Moved, mark.Car, mark.State, mark.Fitting = true, e.Car, e.State, e.Fitting
		s.movedTo(e.Car, e.Run)
	}
	s.Marks = s.Marks.WithBy(s.owner, e.Run, mark)
	if was.Counts() {
		s.ran(r.Session, was.Car, -1, 0)
		s.ran(r.Session, e.Car, 1, 0)
	}
}

func (s *State) movedTo(car day.CarID, run day.RunID) {
	list := s.moved.At(car)
	s.moved = s.moved.WithBy(s.owner, car, append(list[:len(list):len(list)], run))
}

// JudgePractice says that a run does not count and why, or that it counts all the same
// where Drop is empty.
type JudgePractice struct {
	Run  day.RunID
	Drop Drop
}

// PracticeJudged says whether a run counts.
type PracticeJudged struct {
	Run  day.RunID `json:"run"`
	Drop Drop      `json:"drop,omitempty"` // empty: it counts
	By   string    `json:"by"`
}

func (c JudgePractice) decide(s *State, m meet.Meta) ([]Event, error) {
	r, there := s.PracticeRun(c.Run)
	switch {
	case !there:
		return nil, refusal.New("no-practice-run", "run", c.Run)
	case c.Drop != "" && !slices.Contains(drops, c.Drop):
		return nil, refusal.New("drop-word")
	case r.Dropped == c.Drop:
		return nil, nil
	}
	return []Event{PracticeJudged{Run: c.Run, Drop: c.Drop, By: m.Actor}}, nil
}

// Type is the name in the log.
func (PracticeJudged) Type() string { return "PracticeJudged" }

func (e PracticeJudged) apply(s *State) {
	r, there := s.Runs.Get(e.Run)
	if !there {
		return
	}
	was := s.shown(r)
	mark := s.Marks.At(e.Run)
	mark.Dropped = e.Drop
	s.Marks = s.Marks.WithBy(s.owner, e.Run, mark)
	now := s.shown(r)
	switch {
	case was.Counts() && !now.Counts():
		s.ran(r.Session, now.Car, -1, -r.Figures.DistanceUM)
	case now.Counts() && !was.Counts():
		s.ran(r.Session, now.Car, 1, r.Figures.DistanceUM)
	}
}
