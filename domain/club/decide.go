package club

import (
	"fmt"
	"maps"
	"slices"

	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
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
// *refusal.Refusal. It never changes s.
func Decide(s *State, c Command, m meet.Meta) ([]Event, error) { return c.decide(s, m) }

// Evolve puts one event into s, in place.
func Evolve(s *State, e Event, atUS int64) {
	s.Seq++
	s.TimeUS = atUS
	e.apply(s)
}

// Version is the version in which events are written now.
const Version = 1

// Decode reads an event; it is the one place where old versions are lifted.
func Decode(kind string, version int, data []byte) (Event, error) {
	read, known := readers[kind]
	if !known || version != Version {
		return nil, fmt.Errorf("this program does not know version %d of the event %s; it was written by a later one", version, kind)
	}
	return read(data)
}

var readers = map[string]func([]byte) (Event, error){
	BenchRegistered{}.Type():  read[BenchRegistered](),
	BenchRetired{}.Type():     read[BenchRetired](),
	CarRegistered{}.Type():    read[CarRegistered](),
	PracticeArmed{}.Type():    read[PracticeArmed](),
	PracticeRecorded{}.Type(): read[PracticeRecorded](),
	PersonErased{}.Type():     read[PersonErased](),
	TextErased{}.Type():       read[TextErased](),

	RatingsTaken{}.Type(): read[RatingsTaken](),

	ReferenceCheckBegun{}.Type(): read[ReferenceCheckBegun](),
	ReferenceRunDropped{}.Type(): read[ReferenceRunDropped](),
}

// Types lists the names of all events in order.
func Types() []string { return slices.Sorted(maps.Keys(readers)) }

func read[E Event]() func([]byte) (Event, error) {
	data := journal.Reader[E]()
	return func(text []byte) (Event, error) {
		e, err := data(text)
		if err != nil {
			return nil, fmt.Errorf("event %s: %w", e.Type(), err)
		}
		return e, nil
	}
}
