package day

import (
	"fmt"

	"benchmeet/domain/journal"
)

// Event is a fact of the day. Its JSON is the data of an envelope: strings,
// integers, booleans, lists and objects only.
type Event interface {
	// Type is the name in the log; it never changes.
	Type() string
	// apply puts the fact into the state. It must not refuse, and it must not
	// change anything that an earlier Clone still holds: it replaces values in
	// maps and makes new slices.
	apply(s *State)
}

// VersionOf is the version in which an event of a type is written now; 0 for a type
// that is not known.
func VersionOf(kind string) int { return readers[kind].version }

// Decode reads an event from its envelope's type, version and data. Stored bytes are
// never rewritten: an event of an earlier version is marked as one here, and lifted
// where it is folded, because that needs the state before it (before.go). An unknown
// type or version is an error: a state without it would be wrong.
func Decode(kind string, version int, data []byte) (Event, error) {
	r, known := readers[kind]
	if !known {
		return nil, fmt.Errorf("this program does not know the event %s: %w", kind, journal.ErrLater)
	}
	if version > r.version {
		return nil, fmt.Errorf(
			"this program knows the event %s up to version %d and not version %d: %w", kind, r.version, version, journal.ErrLater,
		)
	}
	if version < 1 {
		return nil, fmt.Errorf("the event %s has no version %d", kind, version)
	}
	return r.read(data, version)
}

// readers is the table of all events and of their versions.
var readers = table(
	// Version 1, as they have always been.
	reader[MeetPlanned](), reader[PlanChanged](), reader[RulesChanged](), reader[DivisionAdded](),
	reader[BenchAdded](), reader[BenchServiceChanged](), reader[EntryTaken](), reader[EntryCheckedIn](),
	reader[EntriesClosed](), reader[EntriesReopened](), reader[DivisionSeeded](), reader[DivisionsMerged](),
	reader[DivisionsSplit](), reader[DeciderDropped](), reader[HeatCalled](), reader[HeatCalledOff](),
	reader[LaneMoved](), reader[BenchReady](), reader[RerunAsked](), reader[RerunTurnedDown](),
	reader[RunLeftStanding](), reader[RunSetAside](), reader[RunMeasuredAgain](), reader[LanesSwapped](),
	reader[PenaltyGiven](), reader[ProtestLodged](), reader[ProtestRuled](), reader[DrawLetStand](),
	reader[MeetPaused](), reader[BatteryChecked](), reader[PacksAdded](), reader[PackIssued](),
	reader[PackReturned](), reader[PacksDealt](), reader[PackPutBack](), reader[CarInspected](),
	reader[InspectionLapsed](), reader[RaceAllowed](), reader[FactorsAdopted](), reader[FactorsWithdrawn](),
	reader[ProgrammeEnded](), reader[ResultsPublished](), reader[ReadyTakenBack](), reader[OfficialWanted](),
	reader[LaneLeft](), reader[RestDrawnAgain](), reader[HandCountCorrected](),
	reader[PutAway](), reader[BroughtBack](), reader[ClockSet](), reader[TimesTold](), reader[HeatsOrdered](),
	reader[HeatHeld](), reader[AdultsCounted](), reader[CutsChosen](),

	// Version 2 says what rules made of it; before.go reads version 1.
	changedReader[HeatStarted](2),
	changedReader[RunRecorded](2),
	changedReader[ResultsPosted](2),
	changedReader[RerunGranted](2),
	changedReader[RunAccepted](2),
	changedReader[RunReassigned](2),
	changedReader[HeatVoided](2),
	changedReader[StatusRuled](2),
	changedReader[EntryDisqualified](2),
	changedReader[EntryWithdrawn](2),
	changedReader[EntryReinstated](2),
	changedReader[EntryChanged](2),
	changedReader[RoundDrawn](2),
	changedReader[RoundDrawnAgain](2),
	changedReader[DeciderDrawn](2),
	changedReader[MeetResumed](2),
	changedReader[RoundClosed](2),
)

// eventReader reads the events of one type, in all versions up to the one given.
type eventReader struct {
	kind    string
	version int
	read    func(data []byte, version int) (Event, error)
}

// reader reads a type that has always been as it is.
func reader[E Event]() eventReader {
	return readerOf(1, func(*E, int) {})
}

// changedReader reads a type that is now written in a later version.
func changedReader[E changed, P interface {
	*E
	mark(version int)
}](now int) eventReader {
	return readerOf(now, func(e *E, version int) { P(e).mark(version) })
}

// readerOf reads a type that is now written in a version; mark notes an earlier one.
func readerOf[E Event](now int, mark func(e *E, version int)) eventReader {
	var zero E
	read := journal.Reader[E]()
	return eventReader{zero.Type(), now, func(data []byte, version int) (Event, error) {
		e, err := read(data)
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

func table(all ...eventReader) map[string]eventReader {
	m := make(map[string]eventReader, len(all))
	for _, r := range all {
		m[r.kind] = r
	}
	return m
}

// Types lists the names of all events, in no particular order.
func Types() []string {
	names := make([]string, 0, len(readers))
	for kind := range readers {
		names = append(names, kind)
	}
	return names
}
