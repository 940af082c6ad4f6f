package club

import (
	"strconv"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// Command is an order to the club.
type Command interface {
	// decide answers with the events that follow, or a refusal. It must not
	// change s.
	decide(s *State, m meet.Meta) ([]Event, error)
}

// Event is a fact of the club; see meet.Event for what its data may hold.
type Event interface {
	// Type is the name in the log; it never changes.
	Type() string
	apply(s *State)
}

// Decide answers a command with the events that follow from it, or with a
// *refusal.Refusal whose sentence names benches by their numbers. It never changes s.
func Decide(s *State, c Command, m meet.Meta) ([]Event, error) {
	events, err := c.decide(s, m)
	if no, is := refusal.As(err); is {
		no.Name(func(id any) (refusal.Name, bool) {
			bench, is := id.(day.BenchID)
			b, there := s.Benches[bench]
			return refusal.Name{Says: strconv.Itoa(b.Number)}, is && there
		})
	}
	return events, err
}

// Evolve puts one event into s, in place.
func Evolve(s *State, e Event, atUS int64) {
	s.Seq++
	s.TimeUS = atUS
	if c, is := e.(changed); is {
		if lifted := c.lift(s); lifted != nil {
			e = lifted
		}
	}
	e.apply(s)
}

// changed is an event that had another form in earlier versions, which said less: the
// fold then made the rest of the state before it.
type changed interface {
	Event
	// lift is the event as it is written now, nil where it was written so.
	lift(s *State) Event
	// lowered is an event of today as an earlier version wrote it, without what it did
	// not say; see Lower.
	lowered(version int) changed
}
