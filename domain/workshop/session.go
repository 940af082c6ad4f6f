package workshop

import (
	"slices"

	"benchmeet/domain/day"
)

// Session is a practice afternoon on some benches. Values in it are replaced and never
// changed in place.
type Session struct {
	ID       string `json:"id"`
	Settings `json:"settings"`
	Benches  []day.BenchID `json:"benches"`
	OpenedUS int64         `json:"opened_us"`
	ClosedUS int64         `json:"closed_us,omitempty"`
	// Queue are the cars in the order of their turns; one on a bench stands in it too.
	Queue []day.CarID `json:"queue,omitempty"`
	// Had is what each car that queued or ran has had so far.
	Had map[day.CarID]Had `json:"had,omitempty"`
	// DistanceUM is what all of its runs that count have driven together, in µm.
	DistanceUM int64 `json:"distance_um,omitempty"`
}

// Settings may be changed while a session is open.
type Settings struct {
	RaceUS int64 `json:"race_us"` // how long each run lasts, µs
	Turn   int   `json:"turn"`    // runs a turn
	// HandsFree has a bench take the next car by itself.
	HandsFree bool `json:"hands_free,omitempty"`
	// GoalUM is the distance that all want to drive together, in µm; 0 is none.
	GoalUM int64 `json:"goal_um,omitempty"`
}

// Had is what a car has had of a session.
type Had struct {
	Turns int `json:"turns,omitempty"` // a latecomer is given those that all others had
	Runs  int `json:"runs,omitempty"`
}

// MostTurn is the most runs a turn.
const MostTurn = 20

// Open says whether the session goes on.
func (s Session) Open() bool { return s.ClosedUS == 0 }

// Place is where a car with so many turns and runs goes in a queue, from 0: behind those
// who had no more turns than it has, and among equals behind those who had no more runs.
func (s Session) Place(h Had) int {
	for i, other := range s.Queue {
		o := s.Had[other]
		if o.Turns > h.Turns || o.Turns == h.Turns && o.Runs > h.Runs {
			return i
		}
	}
	return len(s.Queue)
}

// Arriving is what a car counts as that joins the queue now: who comes late has no turns
// to catch up with, and who leaves and comes again gains none.
func (s Session) Arriving(car day.CarID) Had {
	h := s.Had[car]
	least := 0
	for i, other := range s.Queue {
		if turns := s.Had[other].Turns; i == 0 || turns < least {
			least = turns
		}
	}
	h.Turns = max(h.Turns, least)
	return h
}

// Without is the session with a car out of its queue, to ask where it would go then.
func (s Session) Without(car day.CarID) Session {
	s.Queue = slices.DeleteFunc(slices.Clone(s.Queue), func(c day.CarID) bool { return c == car })
	return s
}

// Next is the first car of the queue that is on no bench, "" where there is none.
func (s Session) Next(onBench func(day.CarID) bool) day.CarID {
	for _, car := range s.Queue {
		if !onBench(car) {
			return car
		}
	}
	return ""
}
