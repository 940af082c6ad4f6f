package main

import (
	"encoding/json"
	"testing"

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
	})
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
