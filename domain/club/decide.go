package club

import (
	"fmt"
	"maps"
	"slices"
	"strconv"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
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
		no.Name(func(id any) (string, bool) {
			bench, is := id.(day.BenchID)
			b, there := s.Benches[bench]
			return strconv.Itoa(b.Number), is && there
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
}

// VersionOf is the version in which an event of a type is written now; 0 for a type
// that is not known.
func VersionOf(kind string) int { return readers[kind].version }

// Decode reads an event. One of an earlier version is marked as such here, and lifted
// where it is folded (before.go). An unknown type or version is an error.
func Decode(kind string, version int, data []byte) (Event, error) {
	r := readers[kind]
	if version > r.version {
		return nil, fmt.Errorf("this program does not know version %d of the event %s; it was written by a later one", version, kind)
	}
	if version < 1 {
		return nil, fmt.Errorf("the event %s has no version %d", kind, version)
	}
	return r.read(data, version)
}

// eventReader reads the events of one type, in all versions up to the one given.
type eventReader struct {
	version int
	read    func(data []byte, version int) (Event, error)
}

var readers = map[string]eventReader{
	BenchRegistered{}.Type(): read[BenchRegistered](),
	BenchRetired{}.Type():    read[BenchRetired](),
	CarRegistered{}.Type():   read[CarRegistered](),
	PracticeArmed{}.Type():   read[PracticeArmed](),
	PersonErased{}.Type():    read[PersonErased](),
	TextErased{}.Type():      read[TextErased](),
	ConsentsChanged{}.Type(): read[ConsentsChanged](),

	RatingsTaken{}.Type(): read[RatingsTaken](),

	ReferenceCheckBegun{}.Type(): read[ReferenceCheckBegun](),
	ReferenceRunDropped{}.Type(): read[ReferenceRunDropped](),

	// Version 2 says under which name it was sent; before.go reads version 1.
	PracticeRecorded{}.Type(): readOf(2, func(e *PracticeRecorded, v int) { e.Old = v }),
}

// Types lists the names of all events in order.
func Types() []string { return slices.Sorted(maps.Keys(readers)) }

// read reads a type that has always been as it is.
func read[E Event]() eventReader { return readOf(1, func(*E, int) {}) }

// readOf reads a type that is now written in a version; mark notes an earlier one.
func readOf[E Event](now int, mark func(e *E, version int)) eventReader {
	data := journal.Reader[E]()
	return eventReader{now, func(text []byte, version int) (Event, error) {
		e, err := data(text)
		if err != nil {
			return nil, fmt.Errorf("event %s: %w", e.Type(), err)
		}
		if version < now {
			old := e // of its own, so that e needs no place on the heap
			mark(&old, version)
			return old, nil
		}
		return e, nil
	}}
}
