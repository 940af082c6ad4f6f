package evidence

import (
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/runname"
)

// NamesOf are the names under which a recorded run of a meet may have been sent: the
// one that its event keeps, or those that fit an event of before.
func NamesOf(r day.Run) []day.RunID {
	return names(r.ID, r.Sent, r.Boot, r.Old)
}

// NamesOfEvent is NamesOf before the event is folded.
func NamesOfEvent(e day.RunRecorded) []day.RunID {
	return names(e.ID, e.Sent, e.Boot, e.Old)
}

// NamesOfPractice is NamesOfEvent of a practice run.
func NamesOfPractice(e club.PracticeRecorded) []day.RunID {
	return names(e.ID, e.Sent, e.Boot, e.Old)
}

// NamesInClub are the names under which a practice run may have been sent, of a run of
// which only what the club keeps is known.
func NamesInClub(r club.Practice) []day.RunID { return runname.Before(r.ID, r.Boot) }

func names(id, sent day.RunID, boot string, old int) []day.RunID {
	switch {
	case old != 0:
		return runname.Before(id, boot)
	case sent != "":
		return []day.RunID{sent}
	}
	return []day.RunID{id}
}
