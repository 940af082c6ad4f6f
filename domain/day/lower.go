package day

import (
	"slices"

	"benchmeet/domain/journal"
)

// This file writes events as earlier versions had them, for programs that read no later
// ones: those that still run beside this one on the same log. before.go reads them again.

// Lower is an event as a version had it, to be written in place of e, which follows from
// s and happens at atUS. It is false where that version could not say all that e says:
// where what it is read as, in this state, is not e. Version 0 is that of a program that
// does not know the event at all. It changes neither s nor e.
func Lower(s *State, e Event, version int, atUS int64) (Event, bool) {
	if version >= VersionOf(e.Type()) {
		return e, true
	}
	c, is := e.(changed)
	if !is || version < 1 {
		return nil, false
	}
	lowered := c.lowered(version)
	then := *s
	then.Seq, then.TimeUS = s.Seq+1, atUS
	return lowered, journal.SameData(e, lowered.lift(&then))
}

func (e RunRecorded) lowered(version int) changed {
	e.Sent, e.Result, e.Decider, e.Old = "", "", false, version
	return e
}

func (e StatusRuled) lowered(version int) changed {
	e.Stands, e.Keeps, e.Again, e.Old = "", "", nil, version
	return e
}

func (e RerunGranted) lowered(version int) changed {
	e.Better, e.DropsPenaltyUM, e.Again, e.Old = "", 0, nil, version
	return e
}

func (e RunAccepted) lowered(version int) changed {
	e.SetsAside, e.Old = "", version
	return e
}

func (e RunReassigned) lowered(version int) changed {
	e.SetsAside, e.Again, e.Old = "", nil, version
	return e
}

func (e HeatVoided) lowered(version int) changed {
	e.VoidRuns, e.Again, e.Old = nil, nil, version
	return e
}

func (e EntryWithdrawn) lowered(version int) changed {
	e.Ends, e.Old = nil, version
	return e
}

func (e EntryDisqualified) lowered(version int) changed {
	e.Ends, e.Old = nil, version
	return e
}

func (e EntryReinstated) lowered(version int) changed {
	e.Again, e.Clears, e.Old = nil, nil, version
	return e
}

func (e EntryChanged) lowered(version int) changed {
	e.Lapses, e.Old = "", version
	return e
}

func (e RoundDrawn) lowered(version int) changed {
	e.Heats, e.Old = slices.Clone(e.Heats), version
	for i := range e.Heats {
		e.Heats[i].Out, e.Heats[i].ProtestUntilUS = nil, 0
	}
	return e
}

func (e RoundDrawnAgain) lowered(version int) changed {
	e.Drawn, e.Old = e.Drawn.lowered(version).(RoundDrawn), version
	return e
}

func (e DeciderDrawn) lowered(version int) changed {
	e.Again, e.Old = nil, version
	return e
}

func (e ResultsPosted) lowered(version int) changed {
	e.Keeps, e.Old = nil, version
	return e
}

func (e RoundClosed) lowered(version int) changed {
	e.FactorSet, e.Old = 0, version
	return e
}

func (e HeatStarted) lowered(version int) changed {
	e.EndsUS, e.Old = 0, version
	return e
}

func (e MeetResumed) lowered(version int) changed {
	e.DeadlinesUS, e.ProtestsUS, e.BatteriesSinceUS, e.Old = nil, nil, 0, version
	return e
}
