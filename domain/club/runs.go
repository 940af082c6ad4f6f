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
	out.Dropped, out.Restated = mark.Dropped, mark.Restated
	if mark.Moved {
		out.Car = mark.Car
		out.GuessUM = 0 // it was another child's
	}
	if mark.Moved || mark.Restated {
		out.State, out.Fitting = mark.State, mark.Fitting
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
	s.tally(s.shown(r), 1)
	s.reach(r.ID)
}

// Driven is what the runs of a car in one state came to: of those that have a speed.
type Driven struct {
	Car   day.CarID
	State int
	Runs  int
	// SpeedUMPS is the sum of their mean speeds, in µm/s.
	SpeedUMPS int64
}

// carState is a car in one of its states.
type carState struct {
	car   day.CarID
	state int
}

// carRace is a car in runs that were asked to last as long.
type carRace struct {
	car    day.CarID
	raceUS int64
}

// Farthest is the run of a car that went farthest of those that count and were asked to
// last as long; of equal ones the newest. It costs the same however many runs there are.
func (s *State) Farthest(car day.CarID, raceUS int64) (Practice, bool) {
	r, there := s.farthest.Get(carRace{car, raceUS})
	if !there {
		return Practice{}, false
	}
	return *s.shown(r), true
}

// Driven goes through what all cars drove in each of their states, in no order that means
// anything. Its cost goes with the states and not with the runs.
func (s *State) Driven() iter.Seq[Driven] {
	return func(yield func(Driven) bool) {
		for _, d := range s.driven.All() {
			if !yield(d) {
				return
			}
		}
	}
}

// tally counts a run as it is shown now, or takes it back.
func (s *State) tally(r *Practice, runs int) {
	if !r.HasSpeed() {
		return
	}
	k := carState{r.Car, r.State}
	d := s.driven.At(k)
	d.Car, d.State = r.Car, r.State
	d.Runs += runs
	d.SpeedUMPS += int64(runs) * r.Figures.MeanUMPS
	if d.Runs == 0 {
		s.driven = s.driven.WithoutBy(s.owner, k)
		return
	}
	s.driven = s.driven.WithBy(s.owner, k, d)
}

// reach holds a run against the farthest of its car and length.
func (s *State) reach(id day.RunID) {
	raw := s.Runs.At(id)
	r := s.shown(raw)
	if !r.Counts() {
		return
	}
	k := carRace{r.Car, r.RaceUS}
	best, there := s.farthest.Get(k)
	if there && (r.Figures.DistanceUM < best.Figures.DistanceUM ||
		r.Figures.DistanceUM == best.Figures.DistanceUM && r.nth < best.nth) {
		return
	}
	s.farthest = s.farthest.WithBy(s.owner, k, raw)
}

// remarked brings what was reckoned of a run up to what was said of it now; was is the run
// as it was shown before. Only a farthest run that counts no more has its car looked
// through again.
func (s *State) remarked(was Practice) {
	s.tally(&was, -1)
	s.tally(s.shown(s.Runs.At(was.ID)), 1)
	k := carRace{was.Car, was.RaceUS}
	if best, there := s.farthest.Get(k); there && best.ID == was.ID {
		s.farthest = s.farthest.WithoutBy(s.owner, k)
		for r := range s.PractisedBy(was.Car) {
			if r.RaceUS == was.RaceUS {
				s.reach(r.ID)
			}
		}
	}
	s.reach(was.ID)
}
