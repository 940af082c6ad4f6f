package archive_test

import (
	"testing"

	"benchmeet/api/archive"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
)

// TestAnOldDayGoesOn: a day that an earlier program began is brought in and raced on by
// this one. Its log then has events of both versions, and it is checked, exported and
// folded like any other.
func TestAnOldDayGoesOn(t *testing.T) {
	old, err := archive.Open("testdata/spring-2.benchmeet")
	must(t, err)
	defer old.Close()
	db, _ := newSQLite(t)
	_, err = archive.Import(t.Context(), old, db)
	must(t, err)
	d := newDay(t, db)
	d.orders = 1000

	heat := d.state().Programmes["junior"].Stages[0].Rounds[0].Heats[0]
	lane := d.state().Heats[heat].Lanes[0]
	if r := d.state().Runs[lane.Counts]; r.ID == "" || r.Old != 1 {
		t.Fatalf("the old day has no run to beat: %+v", r)
	}
	reason := day.Reason{Code: day.ReasonPower}
	d.meet(meet.GrantRerun{Heat: heat, Entry: lane.Entry, Counts: day.CountsBetter, Reason: reason})
	d.start(heat)
	again := d.state().Heats[heat].Lanes[0]
	d.send(string(again.Bench), boot, string(again.Armed), spring, "", 3000) // far slower
	now := d.state().Heats[heat].Lanes[0]
	if now.Counts != lane.Counts || now.State != day.LaneDone {
		t.Errorf("the better of an old and a new run is %s, want %s", now.Counts, lane.Counts)
	}
	// The box was started once more, and sends under the name of an old run.
	d.send(string(lane.Bench), "00000000000000cc", string(lane.Counts), spring, "", 9050)
	renamed := d.state().Runs[lane.Counts+".00000000000000cc"]
	if renamed.Sent != lane.Counts || renamed.Old != 0 {
		t.Errorf("the run under a taken name is %+v", renamed)
	}

	written := map[int]int{} // events of each version
	must(t, db.Read(t.Context(), store.MeetStream(harbour, spring), 0, func(r journal.Record) error {
		e, err := r.Open()
		if e.Type == (day.RunRecorded{}).Type() {
			written[e.V]++
		}
		return err
	}))
	if written[1] == 0 || written[2] != 2 || len(written) != 2 {
		t.Errorf("runs recorded by version: %v", written)
	}
	if report := verified(t, db); len(report.Problems) > 0 {
		t.Errorf("verify finds %v", report.Problems)
	}
	r, _ := exported(t, db, everything())
	target, _ := newSQLite(t)
	_, err = archive.Import(t.Context(), r, target)
	must(t, err)
	wantSame(t, "the day that went on", contentOf(t, db), contentOf(t, target))
	if states(t, db) != states(t, target) {
		t.Error("the day folds to another state after export and import")
	}
}
