package club

import "benchmeet/domain/journal"

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
	read := lowered.lift(&then)
	if read == nil {
		read = lowered
	}
	return lowered, journal.SameData(e, read)
}

func (e PracticeRecorded) lowered(version int) changed {
	e.Sent, e.Armed, e.Old = "", false, version
	return e
}

func (e CarChanged) lowered(int) changed {
	e.NotedUS = 0
	return e
}
