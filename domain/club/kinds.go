package club

import (
	"fmt"
	"maps"
	"slices"

	"benchmeet/domain/journal"
)

// VersionOf is the version in which an event of a type is written now; 0 for a type
// that is not known.
func VersionOf(kind string) int { return readers[kind].version }

// Decode reads an event. One of an earlier version is marked as such here, and lifted
// where it is folded (before.go). An unknown type or version is an error.
func Decode(kind string, version int, data []byte) (Event, error) {
	r := readers[kind]
	if version > r.version {
		return nil, fmt.Errorf("this program does not know version %d of the event %s: %w", version, kind, journal.ErrLater)
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

	PracticeOpened{}.Type():    read[PracticeOpened](),
	PracticeSet{}.Type():       read[PracticeSet](),
	PracticeClosed{}.Type():    read[PracticeClosed](),
	QueueMoved{}.Type():        read[QueueMoved](),
	PracticeCancelled{}.Type(): read[PracticeCancelled](),
	RunGuessed{}.Type():        read[RunGuessed](),
	ComparisonPlanned{}.Type(): read[ComparisonPlanned](),
	PracticeMoved{}.Type():     read[PracticeMoved](),
	PracticeJudged{}.Type():    read[PracticeJudged](),
	PracticeRestated{}.Type():  read[PracticeRestated](),

	ReferenceCheckBegun{}.Type(): read[ReferenceCheckBegun](),
	ReferenceRunDropped{}.Type(): read[ReferenceRunDropped](),

	// Version 2 may say when it was noted; in version 1 that was when it came.
	CarChanged{}.Type(): changedRead(2, func(*CarChanged, int) {}),
	// Version 2 says under which name it was sent; before.go reads version 1.
	PracticeRecorded{}.Type(): changedRead(2, func(e *PracticeRecorded, v int) { e.Old = v }),
}

// Types lists the names of all events in order.
func Types() []string { return slices.Sorted(maps.Keys(readers)) }

// read reads a type that has always been as it is.
func read[E Event]() eventReader { return readOf(1, func(*E, int) {}) }

// changedRead reads a type that had another form in earlier versions.
func changedRead[E changed](now int, mark func(e *E, version int)) eventReader {
	return readOf(now, mark)
}

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
