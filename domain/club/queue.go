package club

import (
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// QueueWhy says why a car has another place in the queue of a session.
type QueueWhy string

// Why a car moves.
const (
	Joined  QueueWhy = "joined"
	Left    QueueWhy = "left"
	Skipped QueueWhy = "skipped"
	HadTurn QueueWhy = "had-turn"
)

// QueueMoved says where a car stands in the queue of a session from now on.
type QueueMoved struct {
	Session string    `json:"session"`
	Car     day.CarID `json:"car"`
	To      int       `json:"to"`              // from 0; -1 is out of it
	Turns   int       `json:"turns,omitempty"` // those that it has had from now on
	Why     QueueWhy  `json:"why"`
	By      string    `json:"by"`
}

// Type is the name in the log.
func (QueueMoved) Type() string { return "QueueMoved" }

func (e QueueMoved) apply(s *State) {
	if one, there := s.Session(e.Session); there {
		keep(s, replaced(one, e.Car, e.To, e.Turns))
	}
}

// JoinQueue puts a car into the queue of a session. A number that is not registered yet is
// registered with it. A bench that stands free takes it at once.
type JoinQueue struct {
	Session string
	Number  int
}

func (c JoinQueue) decide(s *State, m meet.Meta) ([]Event, error) {
	one, err := openSession(s, c.Session)
	if err != nil {
		return nil, err
	}
	car, out, err := numbered(s, c.Number, m)
	if err != nil || slices.Contains(one.Queue, car) {
		return out, err
	}
	h := one.Arriving(car)
	moved := QueueMoved{Session: one.ID, Car: car, To: one.Place(h), Turns: h.Turns, Why: Joined, By: m.Actor}
	out = append(out, moved)
	if !one.HandsFree {
		return out, nil
	}
	one = replaced(one, car, moved.To, moved.Turns)
	for _, bench := range one.Benches {
		armed, taken := s.Armed[bench]
		if taken && !armed.Again {
			continue
		}
		next := one.Next(onBenchBut(s, bench))
		if taken && armed.Car == next {
			return out, nil // it went on already, and is in the queue from now on
		}
		if e, can := armNext(s, one, bench, next, m); can {
			return append(out, e), nil
		}
	}
	return out, nil
}

// LeaveQueue takes a car out of the queue of a session. A bench that it was next on takes
// another.
type LeaveQueue struct {
	Session string
	Number  int
}

func (c LeaveQueue) decide(s *State, m meet.Meta) ([]Event, error) {
	one, car, err := queued(s, c.Session, c.Number)
	if err != nil || car == "" {
		return nil, err
	}
	out := []Event{QueueMoved{Session: one.ID, Car: car, To: -1, Turns: one.Had[car].Turns, Why: Left, By: m.Actor}}
	bench, on := benchOf(s, one, car)
	if !on {
		return out, nil
	}
	one = one.Without(car)
	if next := one.Next(onBenchBut(s, bench)); next != "" && one.HandsFree {
		if e, can := armNext(s, one, bench, next, m); can {
			return append(out, e), nil
		}
	}
	return append(out, PracticeCancelled{Bench: bench, Run: s.Armed[bench].Run, By: m.Actor}), nil
}

// SkipTurn lets the next car of the queue go first. It costs one place.
type SkipTurn struct {
	Session string
	Number  int
}

func (c SkipTurn) decide(s *State, m meet.Meta) ([]Event, error) {
	one, car, err := queued(s, c.Session, c.Number)
	if err != nil {
		return nil, err
	}
	if car == "" {
		return nil, refusal.New("queue-not-in", "number", c.Number)
	}
	bench, on := benchOf(s, one, car)
	at := slices.Index(one.Queue, car)
	behind := one
	if !on {
		behind.Queue = one.Queue[at:] // those ahead of it go first anyway
	}
	next := behind.Without(car).Next(onBenchBut(s, bench))
	if next == "" {
		return nil, nil // nobody waits behind it
	}
	without := one.Without(car)
	to := slices.Index(without.Queue, next) + 1
	turns := max(one.Had[car].Turns, one.Had[next].Turns)
	out := []Event{QueueMoved{Session: one.ID, Car: car, To: to, Turns: turns, Why: Skipped, By: m.Actor}}
	if on && one.HandsFree {
		if e, can := armNext(s, one, bench, next, m); can {
			out = append(out, e)
		}
	}
	return out, nil
}

// queued is the open session and the car of a number that stands in its queue, "" where it
// does not.
func queued(s *State, session string, number int) (workshop.Session, day.CarID, error) {
	one, err := openSession(s, session)
	if err != nil {
		return one, "", err
	}
	car := s.Numbers.At(number)
	if !slices.Contains(one.Queue, car) {
		return one, "", nil
	}
	return one, car, nil
}

// benchOf is the bench of a session that is armed for a car.
func benchOf(s *State, one workshop.Session, car day.CarID) (day.BenchID, bool) {
	for _, bench := range one.Benches {
		if armed, there := s.Armed[bench]; there && armed.Car == car {
			return bench, true
		}
	}
	return "", false
}

// onBenchBut says of cars whether another bench than this is armed for them.
func onBenchBut(s *State, bench day.BenchID) func(day.CarID) bool {
	return func(car day.CarID) bool {
		for other, armed := range s.Armed {
			if other != bench && armed.Car == car {
				return true
			}
		}
		return false
	}
}

// armNext arms a bench of a session for the first run of a car's turn; false where there
// is no car, or the bench is out of use.
func armNext(s *State, one workshop.Session, bench day.BenchID, car day.CarID, m meet.Meta) (PracticeArmed, bool) {
	_, no := s.bench(bench)
	e := arming(s, bench, one.RaceUS, m)
	e.Car, e.Session, e.Turn = car, one.ID, 1
	return e, car != "" && no == nil
}

// nextAfter arms a bench for what comes after a run, in a session that goes on by itself:
// the same car while its turn lasts, then the next of the queue, and where nobody waits
// the same car again.
func nextAfter(s *State, e PracticeRecorded, m meet.Meta) []Event {
	one, open := s.SessionOf(e.Bench)
	prior, was := s.Armed[e.Bench]
	if !open || !one.HandsFree || was && !e.Armed || prior.Reference != nil {
		return nil
	}
	if _, no := s.bench(e.Bench); no != nil {
		return nil
	}
	armed := arming(s, e.Bench, one.RaceUS, m)
	armed.Car, armed.Session, armed.Turn, armed.Again = prior.Car, one.ID, max(1, prior.Turn), prior.Again
	if was && (e.Short || e.Car != prior.Car) {
		return []Event{armed} // the run that it was asked for is still to be made
	}
	armed.Car = e.Car
	if !e.Short {
		one = afterRun(one, e.Car, 1, 0)
		armed.Turn++
	}
	if armed.Turn <= one.Turn && !armed.Again {
		return []Event{armed}
	}
	var out []Event
	if slices.Contains(one.Queue, e.Car) {
		h := one.Had[e.Car]
		h.Turns++
		moved := QueueMoved{Session: one.ID, Car: e.Car, To: one.Without(e.Car).Place(h), Turns: h.Turns, Why: HadTurn, By: m.Actor}
		one, out = replaced(one, e.Car, moved.To, moved.Turns), append(out, moved)
	}
	armed.Turn = 1
	if next := one.Next(onBenchBut(s, e.Bench)); next != "" {
		armed.Car, armed.Again = next, false
	} else {
		armed.Again = true
	}
	return append(out, armed)
}
