package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/rehearsal"
)

// rehearsed plays the meet of seed 7 and returns its report.
func rehearsed(t *testing.T, more ...string) rehearsal.Report {
	t.Helper()
	args := append([]string{"rehearse", "--seed", "7", "--entries", "24", "--benches", "6", "--json"}, more...)
	code, stdout, stderr := runHere(t, args...)
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	var r rehearsal.Report
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func TestSameSeedSameStandingsOnBothStores(t *testing.T) {
	want := rehearsed(t)
	if len(want.Standings) != 2 || len(want.Standings[0].Lines) < 10 || len(want.Invariants) < 7 {
		t.Fatalf("the rehearsal played %d divisions and checked %d invariants", len(want.Standings), len(want.Invariants))
	}
	databases(t, func(t *testing.T, database string) {
		got := rehearsed(t, "--database", database)
		if diff := cmp.Diff(want.Standings, got.Standings); diff != "" {
			t.Errorf("same seed, other standings (-first +again):\n%s", diff)
		}
		// The day is played by its own clock: each heat is called at the same instant, too.
		if diff := cmp.Diff(want.Drift, got.Drift); diff != "" {
			t.Errorf("same seed, another day (-first +again):\n%s", diff)
		}
	})
}

// TestRehearsalGoesByItsTimetable: heats are told their times before the first race, none is called
// earlier, and what the day has of its own makes it drift by minutes and not by hours.
func TestRehearsalGoesByItsTimetable(t *testing.T) {
	d := rehearsed(t).Drift
	if d == nil || d.Promises < 20 || len(d.Broken) > 0 || d.Heats != d.Promises {
		t.Fatalf("the day went %+v", d)
	}
	opens := time.Date(2027, 4, 17, 9, 0, 0, 0, time.UTC)
	if first := d.Rounds[0]; !first.Planned.Equal(opens) || !first.Started.Equal(opens) {
		t.Errorf("the first round is planned for %s and begins at %s", first.Planned, first.Started)
	}
	if d.EndS < -600 || d.EndS > 3600 || d.HeatMedianS < 0 || d.HeatMedianS > 1800 || d.Ended.Sub(opens) < time.Hour {
		t.Errorf("the day went %+v", d)
	}
	// Half an hour late: nobody is called before, and the whole day is about as much later.
	plan := rehearsal.MakePlan(7, 24, 6)
	plan.LateMin = 30
	late := playedByPlan(t, plan).Drift
	if first := late.Rounds[0]; first.DriftS != 1800 || len(late.Broken) > 0 {
		t.Errorf("half an hour late the first round is %+v, and not kept are %v", first, late.Broken)
	}
	if more := late.EndS - d.EndS; more < 600 || more > 2400 {
		t.Errorf("half an hour late the day ends %.0f s later", more)
	}
}

// playedByPlan rehearses a plan of a file.
func playedByPlan(t *testing.T, plan rehearsal.Plan) rehearsal.Report {
	t.Helper()
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "plan.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := runHere(t, "rehearse", "--plan", file, "--json")
	var r rehearsal.Report
	if err := json.Unmarshal([]byte(stdout), &r); err != nil || code != exitDone {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	return r
}

// TestClubsPlayBesideEachOther on one server: nothing of any is lost, doubled or shown
// elsewhere, and all that was asked is counted.
func TestClubsPlayBesideEachOther(t *testing.T) {
	databases(t, func(t *testing.T, database string) {
		code, stdout, stderr := runHere(
			t, "rehearse", "--clubs", "3", "--entries", "8", "--benches", "4", "--screens", "2", "--json", "--database", database,
		)
		var r clubsReport
		if err := json.Unmarshal([]byte(stdout), &r); code != exitDone || err != nil {
			t.Fatalf("exit %d: %s %v", code, stderr, err)
		}
		if r.Clubs != 3 || !r.AllHolds || len(r.Invariants) > 0 || r.Events < 300 {
			t.Errorf("%+v", r)
		}
		// An entry and its check-in are two orders, and each of its two timed runs has a chunk.
		if r.Answers[rehearsal.Orders].Count < 3*8*2 || r.Answers[rehearsal.Chunks].Count < 3*8*2 || r.Answers[rehearsal.Reads].Count == 0 {
			t.Errorf("counted were %+v", r.Answers)
		}
	})
}

func TestRehearseRefusesImpossibleSizes(t *testing.T) {
	for _, args := range [][]string{{"--entries", "2"}, {"--benches", "0"}, {"--plan", "no-such-file"}, {"--clubs", "0"}, {"--clubs", "2", "--keep"}} {
		code, _, stderr := runHere(t, append([]string{"rehearse"}, args...)...)
		if code != exitUsage || stderr == "" {
			t.Errorf("%v: exit %d, said %q", args, code, stderr)
		}
	}
}
