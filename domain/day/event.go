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

// Version is the version in which the log holds every event's data; there is but one
// so far. When an event's fields change, it gets a number of its own and its old form
// is lifted in Decode: stored bytes are never rewritten.
const Version = 1

// Decode reads an event from its envelope's type, version and data. It is the
// one place where old versions are lifted. An unknown type or version is an
// error: a state without it would be wrong.
func Decode(kind string, version int, data []byte) (Event, error) {
	read, known := readers[kind]
	if !known {
		return nil, fmt.Errorf("this program does not know the event %s; it was written by a later one", kind)
	}
	if version != Version {
		return nil, fmt.Errorf("this program does not know version %d of the event %s", version, kind)
	}
	return read(data)
}

// readers is the table of all events.
var readers = table(
	reader[MeetPlanned](), reader[PlanChanged](), reader[RulesChanged](),
	reader[DivisionAdded](), reader[BenchAdded](), reader[BenchServiceChanged](),
	reader[EntryTaken](), reader[EntryChanged](), reader[EntryCheckedIn](),
	reader[EntriesClosed](), reader[EntriesReopened](),
	reader[RoundDrawn](), reader[RoundDrawnAgain](), reader[DivisionSeeded](),
	reader[DivisionsMerged](), reader[DivisionsSplit](),
	reader[DeciderDrawn](), reader[DeciderDropped](),
	reader[HeatCalled](), reader[HeatCalledOff](), reader[LaneMoved](),
	reader[BenchReady](), reader[HeatStarted](),
	reader[RunRecorded](), reader[ResultsPosted](),
	reader[RerunAsked](), reader[RerunTurnedDown](), reader[RunLeftStanding](),
	reader[RerunGranted](), reader[RunAccepted](), reader[RunSetAside](),
	reader[RunReassigned](), reader[RunMeasuredAgain](), reader[LanesSwapped](), reader[HeatVoided](),
	reader[StatusRuled](), reader[EntryDisqualified](), reader[EntryWithdrawn](), reader[EntryReinstated](),
	reader[PenaltyGiven](), reader[ProtestLodged](), reader[ProtestRuled](),
	reader[DrawLetStand](),
	reader[MeetPaused](), reader[MeetResumed](),
	reader[BatteryChecked](), reader[PacksAdded](), reader[PackIssued](), reader[PackReturned](), reader[PacksDealt](), reader[PackPutBack](),
	reader[CarInspected](), reader[InspectionLapsed](), reader[RaceAllowed](),
	reader[FactorsAdopted](), reader[FactorsWithdrawn](),
	reader[RoundClosed](), reader[ProgrammeEnded](), reader[ResultsPublished](),
)

type namedReader struct {
	kind string
	read func([]byte) (Event, error)
}

func reader[E Event]() namedReader {
	var zero E
	read := journal.Reader[E]()
	return namedReader{zero.Type(), func(data []byte) (Event, error) {
		e, err := read(data)
		if err != nil {
			return nil, fmt.Errorf("event %s: %w", e.Type(), err)
		}
		return e, nil
	}}
}

func table(all ...namedReader) map[string]func([]byte) (Event, error) {
	m := make(map[string]func([]byte) (Event, error), len(all))
	for _, r := range all {
		m[r.kind] = r.read
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
