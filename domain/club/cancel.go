package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// CancelPractice takes back what a bench was armed for. A run that is under way is
// recorded all the same, as what it was asked for.
type CancelPractice struct {
	Bench day.BenchID
	// Run is the run that is taken back; empty, it is the one that the bench is armed
	// with. Another one is left alone: it is that of the next car.
	Run day.RunID
}

// PracticeCancelled says that an armed run was taken back.
type PracticeCancelled struct {
	Bench day.BenchID `json:"bench"`
	Run   day.RunID   `json:"run"`
	By    string      `json:"by"`
}

func (c CancelPractice) decide(s *State, m meet.Meta) ([]Event, error) {
	if _, err := s.bench(c.Bench); err != nil {
		return nil, err
	}
	armed, there := s.Armed[c.Bench]
	if !there || c.Run != "" && armed.Run != c.Run {
		return nil, nil
	}
	return []Event{PracticeCancelled{Bench: c.Bench, Run: armed.Run, By: m.Actor}}, nil
}

// Type is the name in the log.
func (PracticeCancelled) Type() string { return "PracticeCancelled" }

func (e PracticeCancelled) apply(s *State) { takeBack(s, e.Bench) }

// takeBack leaves a bench free, and keeps what it was asked for: a run may be under way.
func takeBack(s *State, bench day.BenchID) {
	if armed, there := s.Armed[bench]; there {
		s.TakenBack[bench] = armed
		delete(s.Armed, bench)
	}
}

// AskedFor is what a bench was asked for under a run's name: the run that it is armed
// with, or the last one that was taken back.
func (s *State) AskedFor(bench day.BenchID, run day.RunID) (Armed, bool) {
	if armed, there := s.Armed[bench]; there && armed.Run == run {
		return armed, true
	}
	back, there := s.TakenBack[bench]
	return back, there && back.Run == run
}
