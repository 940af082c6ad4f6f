package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

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
	car, out, err := numbered(s, c.Number, m)
	if err != nil || car == r.Car {
		return nil, err
	}
	step := s.Lives.At(car).At(r.AtUS)
	out = append(out, PracticeMoved{Run: c.Run, Car: car, State: step.State, Fitting: step.Fitting, By: m.Actor})
	return append(out, putBack(s, c.Run, car, step, m)...), nil
}

// Type is the name in the log.
func (PracticeMoved) Type() string { return "PracticeMoved" }

func (e PracticeMoved) apply(s *State) {
	r, there := s.Runs.Get(e.Run)
	if !there {
		return
	}
	was := *s.shown(r)
	mark := s.Marks.At(e.Run)
	if mark.Moved {
		without := slices.DeleteFunc(slices.Clone(s.moved.At(mark.Car)), func(id day.RunID) bool { return id == e.Run })
		s.moved = s.moved.WithBy(s.owner, mark.Car, without)
	}
	mark = workshop.Mark{Dropped: mark.Dropped}
	if e.Car != r.Car {
		mark.Moved, mark.Car, mark.State, mark.Fitting = true, e.Car, e.State, e.Fitting
		movedTo(s, e.Car, e.Run)
	}
	s.Marks = s.Marks.WithBy(s.owner, e.Run, mark)
	s.remarked(was)
	if was.Counts() {
		ran(s, r.Session, was.Car, -1, 0)
		ran(s, r.Session, e.Car, 1, 0)
	}
}

func movedTo(s *State, car day.CarID, run day.RunID) {
	list := s.moved.At(car)
	s.moved = s.moved.WithBy(s.owner, car, append(list[:len(list):len(list)], run))
}

// JudgePractice says that a run does not count and why, or that it counts all the same
// where Drop is empty.
type JudgePractice struct {
	Run  day.RunID
	Drop workshop.Drop
}

// PracticeJudged says whether a run counts.
type PracticeJudged struct {
	Run  day.RunID     `json:"run"`
	Drop workshop.Drop `json:"drop,omitempty"` // empty: it counts
	By   string        `json:"by"`
}

func (c JudgePractice) decide(s *State, m meet.Meta) ([]Event, error) {
	r, there := s.PracticeRun(c.Run)
	switch {
	case !there:
		return nil, refusal.New("no-practice-run", "run", c.Run)
	case !c.Drop.Known():
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
	was := *s.shown(r)
	mark := s.Marks.At(e.Run)
	mark.Dropped = e.Drop
	s.Marks = s.Marks.WithBy(s.owner, e.Run, mark)
	s.remarked(was)
	now := *s.shown(r)
	switch {
	case was.Counts() && !now.Counts():
		ran(s, r.Session, now.Car, -1, -r.Figures.DistanceUM)
	case now.Counts() && !was.Counts():
		ran(s, r.Session, now.Car, 1, r.Figures.DistanceUM)
	}
}
