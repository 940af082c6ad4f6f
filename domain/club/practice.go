package club

import (
	"fmt"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/runname"
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
	e := PracticeArmed{
		Bench: c.Bench, Run: day.RunID(fmt.Sprintf("practice-%s-%d", c.Bench, s.ArmedSoFar+1)),
		RaceUS: c.RaceUS, By: m.Actor, Reference: reference,
	}
	if c.Number == 0 {
		return []Event{e}, nil
	}
	car, known := s.Numbers.Get(c.Number)
	if known {
		e.Car = car
		return []Event{e}, nil
	}
	e.Car = day.CarID(fmt.Sprintf("car-%d", c.Number))
	for n := s.Seq + 1; s.hasCar(e.Car); n++ { // a car that has another number by now
		e.Car = day.CarID(fmt.Sprintf("car-%d-%d", c.Number, n))
	}
	made, err := RegisterCar{Car{ID: e.Car, Number: c.Number}}.decide(s, m)
	if err != nil {
		return nil, err
	}
	return append(made, e), nil
}

// Type is the name in the log.
func (PracticeArmed) Type() string { return "PracticeArmed" }

func (e PracticeArmed) apply(s *State) {
	s.ArmedSoFar++
	s.Armed[e.Bench] = Armed{Run: e.Run, Car: e.Car, RaceUS: e.RaceUS, AtUS: s.TimeUS, Reference: e.Reference}
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

	Old int `json:"-"` // its version in the log, where that is an earlier one
}

func (c RecordPractice) decide(s *State, _ meet.Meta) ([]Event, error) {
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
	if armed := s.Armed[c.Bench]; armed.Run == c.ID {
		e.Armed = true
		if e.Car == "" {
			e.Car = armed.Car
		}
		if e.Car == armed.Car {
			e.Reference = armed.Reference // another car than was asked for compares nothing
		}
	}
	return []Event{e}, nil
}

// Type is the name in the log.
func (PracticeRecorded) Type() string { return "PracticeRecorded" }

func (e PracticeRecorded) apply(s *State) {
	s.add(&Practice{
		ID: e.ID, Bench: e.Bench, Car: e.Car, Figures: e.Figures, Boot: e.Boot, Trace: e.Trace,
		AtUS: s.TimeUS, Meet: e.Meet, Reference: e.Reference,
	})
	if e.Armed {
		delete(s.Armed, e.Bench)
	}
}
