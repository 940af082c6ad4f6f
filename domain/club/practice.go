package club

import (
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/runname"
	"benchmeet/domain/workshop"
)

// Practice is a run outside any programme. It is never in a standing.
type Practice struct {
	ID      day.RunID       `json:"id"`
	Bench   day.BenchID     `json:"bench"`
	Car     day.CarID       `json:"car,omitempty"`
	Figures measure.Figures `json:"figures"`
	Boot    string          `json:"boot"`
	Trace   string          `json:"trace"` // SHA-256 of the trace
	AtUS    int64           `json:"at_us"`
	// Meet is set where a counter box named a meet that is not there: the run is
	// kept here so that nothing is lost.
	Meet string `json:"meet,omitempty"`
	// Reference is set for a run of a reference check.
	Reference *Reference `json:"reference,omitempty"`

	Session string `json:"session,omitempty"` // the practice session that it was in
	RaceUS  int64  `json:"race_us,omitempty"` // how long it was asked to last, where it was asked for
	// State and Fitting are those of the car at its moment; see workshop.Step.
	State   int `json:"state,omitempty"`
	Fitting int `json:"fitting,omitempty"`
	// GuessUM is what the child guessed before, in µm; 0 is no guess.
	GuessUM int64 `json:"guess_um,omitempty"`
	// Short says that the car drove for less than a second: a finger's spin is no run.
	Short bool `json:"short,omitempty"`
	// Dropped says why the run does not count; see JudgePractice. It is set by what
	// shows runs alone.
	Dropped workshop.Drop `json:"dropped,omitempty"`
	// Restated says that it came before its state was known; see PracticeRestated. It is set
	// by what shows runs alone.
	Restated bool `json:"restated,omitempty"`

	nth int // of all runs, from 1
	// The run recorded before this one, before it with the same car, and before it in
	// a reference check where this one is in one.
	before, beforeOfCar, beforeReference *Practice
}

// Armed is the practice run that a bench is to make next.
type Armed struct {
	Run    day.RunID `json:"run"`
	Car    day.CarID `json:"car,omitempty"`
	RaceUS int64     `json:"race_us"`
	AtUS   int64     `json:"at_us"`
	// Reference is set where the run is for a reference check.
	Reference *Reference `json:"reference,omitempty"`
	Asked
	GuessUM int64 `json:"guess_um,omitempty"` // hidden until the run is recorded
}

// Asked says of an armed run for which turn of a practice session it is.
type Asked struct {
	Session string `json:"session,omitempty"`
	Turn    int    `json:"turn,omitempty"` // the run of the car's turn, from 1
	// Again says that the same car goes on only because nobody waits.
	Again bool `json:"again,omitempty"`
}

// Counts says whether a run is compared and counted: it is no finger's spin, and nobody
// dropped it.
func (p Practice) Counts() bool { return !p.Short && p.Dropped == "" }

// HasSpeed says whether a run tells how fast its car is as it is built: it counts, was in
// no reference check, and a mean speed was measured.
func (p Practice) HasSpeed() bool {
	return p.Counts() && p.Reference == nil && p.Figures.MeanUMPS > 0
}

// ArmPractice asks a bench for a practice run of a car, or of none. A car number
// that is not registered yet is registered with it.
type ArmPractice struct {
	Bench  day.BenchID
	Number int // 0 is no car
	RaceUS int64
	// Reference names the meet whose newest reference check the run is for; empty
	// for ordinary practice. Its race time is then that of the check.
	Reference string
}

// PracticeArmed says which practice run a bench is to make.
type PracticeArmed struct {
	Bench  day.BenchID `json:"bench"`
	Run    day.RunID   `json:"run"`
	Car    day.CarID   `json:"car,omitempty"`
	RaceUS int64       `json:"race_us"`
	By     string      `json:"by"`
	// Reference is set where the run is for a reference check.
	Reference *Reference `json:"reference,omitempty"`
	Asked
}

func (c ArmPractice) decide(s *State, m meet.Meta) ([]Event, error) {
	if _, err := s.bench(c.Bench); err != nil {
		return nil, err
	}
	var reference *Reference
	if c.Reference != "" {
		check, there := s.LastCheck(c.Reference)
		switch car := s.Numbers.At(c.Number); {
		case !there:
			return nil, refusal.New("reference-none", "meet", c.Reference)
		case !slices.Contains(check.Benches, c.Bench):
			return nil, refusal.New("reference-bench", "bench", s.Benches[c.Bench].Number)
		case car == "" || !slices.Contains(check.Cars, car):
			return nil, refusal.New("reference-not-planned", "number", c.Number)
		}
		reference = &Reference{Meet: check.Meet, Check: check.Number}
		c.RaceUS = check.RaceUS
	}
	if c.RaceUS < 1_000_000 || c.RaceUS > 4*3600*1_000_000 {
		return nil, refusal.New("practice-time")
	}
	e := arming(s, c.Bench, c.RaceUS, m)
	e.Reference = reference
	if session, open := s.SessionOf(c.Bench); open && reference == nil {
		e.Session, e.Turn = session.ID, 1
	}
	if c.Number == 0 {
		return []Event{e}, nil
	}
	car, made, err := numbered(s, c.Number, m)
	if err != nil {
		return nil, err
	}
	e.Car = car
	return append(made, e), nil
}

// arming is the event that arms a bench for no car yet.
func arming(s *State, bench day.BenchID, raceUS int64, m meet.Meta) PracticeArmed {
	id := day.RunID(fmt.Sprintf("practice-%s-%d", bench, s.ArmedSoFar+1))
	return PracticeArmed{Bench: bench, Run: id, RaceUS: raceUS, By: m.Actor}
}

// Type is the name in the log.
func (PracticeArmed) Type() string { return "PracticeArmed" }

func (e PracticeArmed) apply(s *State) {
	s.ArmedSoFar++
	if e.Session != "" {
		takeBack(s, e.Bench) // a run of before may be under way
	}
	s.Armed[e.Bench] = Armed{Run: e.Run, Car: e.Car, RaceUS: e.RaceUS, AtUS: s.TimeUS, Reference: e.Reference, Asked: e.Asked}
}

// RecordPractice takes a measured practice run in. It is never refused for what
// the club looks like.
type RecordPractice struct {
	ID      day.RunID
	Bench   day.BenchID
	Number  int // car number that the bench gave; 0 is that of the armed run, or none
	Boot    string
	Trace   string
	Meet    string
	Figures measure.Figures
}

// PracticeRecorded says that a practice run was measured.
type PracticeRecorded struct {
	ID      day.RunID       `json:"id"`
	Bench   day.BenchID     `json:"bench"`
	Car     day.CarID       `json:"car,omitempty"`
	Figures measure.Figures `json:"figures"`
	Boot    string          `json:"boot"`
	Trace   string          `json:"trace"`
	Meet    string          `json:"meet,omitempty"`
	// Reference is set for a run of a reference check. Meet keeps its own meaning.
	Reference *Reference `json:"reference,omitempty"`
	// Sent is the name under which its bench sent it, where it is kept under another,
	// because that one was taken.
	Sent day.RunID `json:"sent,omitempty"`
	// Armed says that it is the run that its bench was asked for, which is then made.
	Armed bool `json:"armed,omitempty"`

	// These are as in Practice.
	Session string `json:"session,omitempty"`
	RaceUS  int64  `json:"race_us,omitempty"`
	State   int    `json:"state,omitempty"`
	Fitting int    `json:"fitting,omitempty"`
	GuessUM int64  `json:"guess_um,omitempty"`
	Short   bool   `json:"short,omitempty"`

	Old int `json:"-"` // its version in the log, where that is an earlier one
}

func (c RecordPractice) decide(s *State, m meet.Meta) ([]Event, error) {
	id, found := runname.For(c.ID, c.Boot, func(name day.RunID) runname.Found {
		old, there := s.Runs.Get(name)
		switch {
		case !there:
			return runname.Free
		case old.Trace == c.Trace && old.Boot == c.Boot && old.Bench == c.Bench:
			return runname.Same
		}
		return runname.Other
	})
	if found == runname.Same {
		return nil, nil
	}
	e := PracticeRecorded{
		ID: id, Bench: c.Bench, Car: s.Numbers.At(c.Number), Figures: c.Figures, Boot: c.Boot, Trace: c.Trace, Meet: c.Meet,
	}
	if id != c.ID {
		e.Sent = c.ID
	}
	if session, open := s.SessionOf(c.Bench); open {
		e.Session = session.ID
	}
	asked, there := s.AskedFor(c.Bench, c.ID)
	if there {
		e.Armed, e.RaceUS = s.Armed[c.Bench].Run == c.ID, asked.RaceUS
		if asked.Session != "" {
			e.Session = asked.Session
		}
		if e.Car == "" {
			e.Car = asked.Car
		}
		if e.Car == asked.Car { // else it compares nothing, and nobody guessed it
			e.Reference, e.GuessUM = asked.Reference, asked.GuessUM
		}
	}
	step := s.Lives.At(e.Car).At(m.NowUS)
	e.State, e.Fitting = step.State, step.Fitting
	e.Short = tooShort(c.Figures, asked.RaceUS)
	return append([]Event{e}, nextAfter(s, e, m)...), nil
}

// leastDrivenUS is for how long a car has to drive for a run, in µs: what takes less is a
// finger's spin (common practice).
const leastDrivenUS = 1_000_000

// tooShort says whether a run drove for less than a second, or than half of its length
// where that is shorter: its distance at its top speed. Of a run whose speed nobody knows
// it is false.
func tooShort(f measure.Figures, raceUS int64) bool {
	least := int64(leastDrivenUS)
	if raceUS > 0 {
		least = min(least, raceUS/2)
	}
	if f.MaxUMPS <= 0 {
		return f.DistanceUM == 0
	}
	return float64(f.DistanceUM)*1e6 < float64(f.MaxUMPS)*float64(least)
}

// Type is the name in the log.
func (PracticeRecorded) Type() string { return "PracticeRecorded" }

func (e PracticeRecorded) apply(s *State) {
	s.add(&Practice{
		ID: e.ID, Bench: e.Bench, Car: e.Car, Figures: e.Figures, Boot: e.Boot, Trace: e.Trace,
		AtUS: s.TimeUS, Meet: e.Meet, Reference: e.Reference,
		Session: e.Session, RaceUS: e.RaceUS, State: e.State, Fitting: e.Fitting, GuessUM: e.GuessUM, Short: e.Short,
	})
	if e.Armed {
		delete(s.Armed, e.Bench)
	}
	if !e.Short {
		ran(s, e.Session, e.Car, 1, e.Figures.DistanceUM)
	}
}
