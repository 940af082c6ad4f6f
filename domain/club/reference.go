package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// Reference says which reference check a practice run belongs to. A run with one
// compares benches; it is in no standing, as no practice run is.
type Reference struct {
	Meet  string `json:"meet"`
	Check int    `json:"check"` // from 1, within the meet
}

// Check is a reference check of a meet: which reference cars are to run on which
// benches, for how long each.
type Check struct {
	Meet    string        `json:"meet"`
	Number  int           `json:"number"` // from 1
	Benches []day.BenchID `json:"benches"`
	Cars    []day.CarID   `json:"cars"`
	RaceUS  int64         `json:"race_us"`
	AtUS    int64         `json:"at_us"`
}

// Plan says which car runs where in which slot.
func (c Check) Plan() []fairness.ReferenceRun {
	plan, err := fairness.ReferencePlan(texts(c.Benches), texts(c.Cars))
	if err != nil {
		return nil // it was checked before the check began
	}
	return plan
}

// RacesWith refuses a car that compares benches: nobody races with it, for its runs in a
// standing would be judged by themselves.
func (s *State) RacesWith(id day.CarID) error {
	if car, there := s.Cars.Get(id); there && car.Reference {
		return refusal.New("car-reference", "number", car.Number)
	}
	return nil
}

// Slot is one planned run of a check, with the run that was made for it.
type Slot struct {
	fairness.ReferenceRun
	Run  day.RunID // empty before
	AtUS int64
}

// Slots is the plan of a check with what was done of it. A run more than planned
// of a car on a bench stands in no slot.
func (s *State) Slots(c Check) []Slot {
	runs := s.ReferenceRuns(c.Meet)
	var out []Slot
	for _, planned := range c.Plan() {
		slot := Slot{ReferenceRun: planned}
		at := slices.IndexFunc(runs, func(r Practice) bool {
			return r.Reference.Check == c.Number && string(r.Car) == planned.Car && string(r.Bench) == planned.Bench
		})
		if at >= 0 {
			slot.Run, slot.AtUS = runs[at].ID, runs[at].AtUS
			runs = slices.Delete(runs, at, at+1)
		}
		out = append(out, slot)
	}
	return out
}

// checkLastsUS is how long a check that was begun is offered to the benches, in µs.
const checkLastsUS = 2 * 3600 * 1_000_000

// NextReference is the run that a bench is to make next in the newest check, if
// the check is under way and the bench has one left.
func (s *State) NextReference(bench day.BenchID) (Check, Slot, bool) {
	if len(s.Checks) == 0 {
		return Check{}, Slot{}, false
	}
	check := s.Checks[len(s.Checks)-1]
	if s.TimeUS-check.AtUS > checkLastsUS {
		return Check{}, Slot{}, false
	}
	for _, slot := range s.Slots(check) {
		if slot.Run == "" && slot.Bench == string(bench) {
			return check, slot, true
		}
	}
	return Check{}, Slot{}, false
}

func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// BeginCheck begins a reference check of a meet with cars that are registered as
// reference cars. The check before it, if there is one, is over.
type BeginCheck struct {
	Meet    string
	Benches []day.BenchID
	Cars    []day.CarID
	RaceUS  int64
}

// ReferenceCheckBegun says what a reference check is made of.
type ReferenceCheckBegun struct {
	Meet    string        `json:"meet"`
	Number  int           `json:"number"`
	Benches []day.BenchID `json:"benches"`
	Cars    []day.CarID   `json:"cars"`
	RaceUS  int64         `json:"race_us"`
	By      string        `json:"by"`
}

func (c BeginCheck) decide(s *State, m meet.Meta) ([]Event, error) {
	if c.RaceUS < 1_000_000 || c.RaceUS > 600_000_000 {
		return nil, refusal.New("reference-time")
	}
	for _, id := range c.Benches {
		if _, err := s.bench(id); err != nil {
			return nil, err
		}
	}
	for _, id := range c.Cars {
		switch car, there := s.Cars.Get(id); {
		case !there:
			return nil, refusal.New("no-car", "car", id)
		case !car.Reference:
			return nil, refusal.New("reference-car", "number", car.Number)
		}
	}
	if _, err := fairness.ReferencePlan(texts(c.Benches), texts(c.Cars)); err != nil {
		return nil, err
	}
	number := 1
	if last, there := s.LastCheck(c.Meet); there {
		number = last.Number + 1
	}
	return []Event{ReferenceCheckBegun{
		Meet: c.Meet, Number: number, Benches: c.Benches, Cars: c.Cars, RaceUS: c.RaceUS, By: m.Actor,
	}}, nil
}

// Type is the name in the log.
func (ReferenceCheckBegun) Type() string { return "ReferenceCheckBegun" }

func (e ReferenceCheckBegun) apply(s *State) {
	s.Checks = append(s.Checks[:len(s.Checks):len(s.Checks)], Check{
		Meet: e.Meet, Number: e.Number, Benches: e.Benches, Cars: e.Cars, RaceUS: e.RaceUS, AtUS: s.TimeUS,
	})
}

// LastCheck is the newest reference check of a meet.
func (s *State) LastCheck(meetID string) (Check, bool) {
	for _, c := range slices.Backward(s.Checks) {
		if c.Meet == meetID {
			return c, true
		}
	}
	return Check{}, false
}

// ChecksOf are the reference checks of a meet in their order.
func (s *State) ChecksOf(meetID string) []Check {
	var out []Check
	for _, c := range s.Checks {
		if c.Meet == meetID {
			out = append(out, c)
		}
	}
	return out
}

// ReferenceRuns are the runs of a meet's reference checks, oldest first, without
// those that were dropped.
func (s *State) ReferenceRuns(meetID string) []Practice {
	var out []Practice
	for r := s.newestReference; r != nil; r = r.beforeReference {
		if _, dropped := s.Dropped[r.ID]; r.Reference.Meet == meetID && !dropped {
			out = append(out, *r)
		}
	}
	slices.Reverse(out)
	return out
}

// DropReference takes a run out of its reference check, because the car left the
// rollers or was the wrong one. The run stays among the practice runs.
type DropReference struct {
	Run day.RunID
}

// ReferenceRunDropped says that a run does not count in its reference check.
type ReferenceRunDropped struct {
	Run day.RunID `json:"run"`
	By  string    `json:"by"`
}

func (c DropReference) decide(s *State, m meet.Meta) ([]Event, error) {
	r, there := s.Runs.Get(c.Run)
	if !there || r.Reference == nil {
		return nil, refusal.New("reference-run", "run", c.Run)
	}
	if _, dropped := s.Dropped[c.Run]; dropped {
		return nil, nil
	}
	return []Event{ReferenceRunDropped{Run: c.Run, By: m.Actor}}, nil
}

// Type is the name in the log.
func (ReferenceRunDropped) Type() string { return "ReferenceRunDropped" }

func (e ReferenceRunDropped) apply(s *State) { s.Dropped[e.Run] = struct{}{} }
