package evidence_test

import (
	"fmt"
	"slices"
	"testing"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// TestNamesOf records runs of one name in a meet and in practice: both name them alike,
// and of each it is known under which name it was sent, though one has the name that
// another would have got. A log of version 1 says only which names fit.
func TestNamesOf(t *testing.T) {
	sent := []day.RunID{"r", "r", "r.bb", "r", "r"}
	boots := []string{"aa", "bb", "cc", "bb", "aa"}
	names := []day.RunID{"r", "r.bb", "r.bb.cc", "r.bb.2", "r.aa"}
	fits := [][]day.RunID{{"r"}, {"r.bb", "r"}, {"r.bb.cc", "r.bb"}, {"r.bb.2", "r"}, {"r.aa", "r"}}

	s, before := day.New(), day.New()
	c := club.New()
	for _, s := range []*day.State{s, before} {
		day.Evolve(s, day.MeetPlanned{Rules: day.UsualRules()}, 1)
	}
	for i, name := range sent {
		trace := fmt.Sprint("trace ", i)
		inMeet, err := meet.Decide(
			s, meet.RecordRun{ID: name, Bench: "b1", Boot: boots[i], Trace: trace, Figures: measure.Figures{}}, meet.Meta{},
		)
		if err != nil || len(inMeet) != 1 {
			t.Fatalf("run %d: %v, %v", i, inMeet, err)
		}
		e := inMeet[0].(day.RunRecorded)
		day.Evolve(s, e, 1)
		wantNames(t, "before the fold", evidence.NamesOfEvent(e), name)
		wantNames(t, "of the meet", evidence.NamesOf(s.Runs[names[i]]), name)
		e.Sent, e.Old = "", 1
		day.Evolve(before, e, 1)
		wantNames(t, "of an old meet", evidence.NamesOf(before.Runs[names[i]]), fits[i]...)

		inClub, err := club.Decide(c, club.RecordPractice{ID: name, Bench: "b1", Boot: boots[i], Trace: trace}, meet.Meta{})
		if err != nil || len(inClub) != 1 {
			t.Fatalf("practice run %d: %v, %v", i, inClub, err)
		}
		p := inClub[0].(club.PracticeRecorded)
		club.Evolve(c, p, 1)
		if p.ID != names[i] {
			t.Errorf("practice run %d is named %s, want %s", i, p.ID, names[i])
		}
		wantNames(t, "of practice", evidence.NamesOfPractice(p), name)
		p.Sent, p.Old = "", 1
		wantNames(t, "of old practice", evidence.NamesOfPractice(p), fits[i]...)
	}
}

func wantNames(t *testing.T, what string, got []day.RunID, want ...day.RunID) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: sent as %v, want %v", what, got, want)
	}
}
