package club

import (
	"cmp"
	"iter"
	"slices"

	"benchmeet/domain/day"
)

// Practised goes through all practice runs, newest first, as they are shown: with what was
// said of them since. They are the state's own, to be read alone.
func (s *State) Practised() iter.Seq[*Practice] {
	return func(yield func(*Practice) bool) {
		for r := s.newest; r != nil; r = r.before {
			if !yield(s.shown(r)) {
				return
			}
		}
	}
}

// PractisedBy is Practised for the runs of one car. It costs nothing for those of others.
func (s *State) PractisedBy(car day.CarID) iter.Seq[*Practice] {
	return func(yield func(*Practice) bool) {
		moved := slices.Clone(s.moved.At(car))
		nth := func(id day.RunID) int { return s.Runs.At(id).nth }
		slices.SortFunc(moved, func(a, b day.RunID) int { return cmp.Compare(nth(b), nth(a)) })
		for r := s.newestOf.At(car); r != nil || len(moved) > 0; {
			next := r
			if r == nil || len(moved) > 0 && nth(moved[0]) > r.nth {
				next, moved = s.Runs.At(moved[0]), moved[1:]
			} else {
				r = r.beforeOfCar
			}
			if shown := s.shown(next); shown.Car == car && !yield(shown) {
				return
			}
		}
	}
}

// PracticeRun is one run as it is shown.
func (s *State) PracticeRun(id day.RunID) (Practice, bool) {
	r, there := s.Runs.Get(id)
	if !there {
		return Practice{}, false
	}
	return *s.shown(r), true
}

// shown is a run with what was said of it since.
func (s *State) shown(r *Practice) *Practice {
	if s.Marks.Len() == 0 {
		return r
	}
	mark, there := s.Marks.Get(r.ID)
	if !there {
		return r
	}
	out := *r
	out.Dropped = mark.Dropped
	if mark.Moved {
		out.Car, out.State, out.Fitting = mark.Car, mark.State, mark.Fitting
		out.GuessUM = 0 // it was another child's
	}
	return &out
}

// History is a car's practice runs, newest first, at most so many. It costs nothing
// for those of other cars.
func (s *State) History(car day.CarID, most int) []Practice {
	var out []Practice
	for r := range s.PractisedBy(car) {
		if len(out) == most {
			break
		}
		out = append(out, *r)
	}
	return out
}

// Newest is the practice runs, newest first, at most so many.
func (s *State) Newest(most int) []Practice {
	var out []Practice
	for r := s.newest; r != nil && len(out) < most; r = r.before {
		out = append(out, *s.shown(r))
	}
	return out
}

// add puts a run in front of all others.
func (s *State) add(r *Practice) {
	r.before, r.beforeOfCar, r.nth = s.newest, s.newestOf.At(r.Car), 1
	if r.before != nil {
		r.nth = r.before.nth + 1
	}
	s.newest, s.newestOf = r, s.newestOf.WithBy(s.owner, r.Car, r)
	if r.Reference != nil {
		r.beforeReference, s.newestReference = s.newestReference, r
	}
	s.Runs = s.Runs.WithBy(s.owner, r.ID, r)
}
