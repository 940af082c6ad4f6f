package intake

import (
	"errors"
	"fmt"
	"testing"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// TestRunsOfALaterMeet are left to the servers that can read it, and no other waits for them: practice
// is recorded, and benches get their orders.
func TestRunsOfALaterMeet(t *testing.T) {
	disk := openSQLite(t)
	newer := newServer(t, disk)
	newer.racingMeet(t, "spring")

	v := newServer(t, disk)
	model := ledger.Meets()
	model.Decode = func(kind string, version int, data []byte) (day.Event, error) {
		if kind == "HeatStarted" {
			return nil, fmt.Errorf("version %d of %s: %w", version, kind, journal.ErrLater)
		}
		return day.Decode(kind, version, data)
	}
	v.meets = ledger.New(model, ledger.Options{Logs: disk, Key: []byte("key")})
	t.Cleanup(v.meets.Close)
	v.Intake = New(Options{Store: disk, Meets: v.meets, Clubs: v.clubs, Speed: func(sp Speed) { v.speeds <- sp }})

	if o, err := v.Assignment(t.Context(), harbour, "b1"); err != nil || o.Meet != "" {
		t.Errorf("the bench's order: %+v, %v", o, err)
	}
	for _, c := range cut(racedRun, steadyTrain(600), trace.Totals{Meet: "spring"}, 300) {
		if kept := v.take(t, c); !kept.Fresh || kept.Recorded {
			t.Errorf("a chunk of a race that cannot be read here: %+v", kept)
		}
	}
	if err := v.Sweep(t.Context(), harbour); !errors.Is(err, ledger.ErrLater) {
		t.Errorf("sweeping says %v", err)
	}
	recorded := false
	for _, c := range cut("practice-b1-1", steadyTrain(600), trace.Totals{}) {
		recorded = v.take(t, c).Recorded
	}
	if runs := v.club(t).Runs; !recorded || runs.Len() != 1 {
		t.Errorf("the club has %d runs of practice, recorded %v", runs.Len(), recorded)
	}

	if err := newer.Sweep(t.Context(), harbour); err != nil {
		t.Fatal(err)
	}
	if n := newer.club(t).Runs.Len(); n != 1 {
		t.Errorf("the run of the race is one of the club's %d", n)
	}
	spring, err := newer.meets.At(t.Context(), store.MeetStream(harbour, "spring"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, there := spring.State.Runs[racedRun]; !there {
		t.Error("the server that reads the meet has not recorded its run")
	}
}
