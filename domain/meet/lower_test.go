package meet_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/day"
	"benchmeet/domain/journal"
)

// TestToldDaysAreLowered writes every told day as version 1 had it, which a program that
// reads no other takes for the same day. Every event that has changed comes up. Refused is
// what version 1 cannot say: that a run was sent under another name than it is kept under,
// and, of two kinds of events, what its rules made otherwise.
func TestToldDaysAreLowered(t *testing.T) {
	paths, err := filepath.Glob("testdata/day/*.txt")
	if err != nil || len(paths) < 40 {
		t.Fatalf("%d told days, %v", len(paths), err)
	}
	all := map[string]int{}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			d := play(t, path)
			lowers(t, d.s, d.log, all)
		})
	}
	if got, want := slices.Sorted(maps.Keys(all)), slices.Sorted(maps.Keys(saidSince)); !slices.Equal(got, want) {
		t.Errorf("told days write %v as version 1 had them, want %v", got, want)
	}
}

// TestRandomDaysAreLowered does so with days that nobody would think of.
func TestRandomDaysAreLowered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := newRandomDay(t)
		for range rapid.IntRange(20, 160).Draw(t, "commands") {
			d.give(d.command())
		}
		lowers(d.tb, d.s, d.log, map[string]int{})
	})
}

// otherInVersion1 are the events of which the rules of version 1 made more: a car that was
// never inspected lapsed when its entry changed, and batteries were to be checked anew
// after each pause, whatever its end said of them.
var otherInVersion1 = map[string]bool{"EntryChanged": true, "MeetResumed": true}

// lowers folds a log as it is and as version 1 would have it, to the same state, and counts
// the events that were written so.
func lowers(t testing.TB, want *day.State, log []journal.Record, counts map[string]int) {
	t.Helper()
	s, old := day.New(), day.New()
	for _, r := range log {
		envelope, err := r.Open()
		if err != nil {
			t.Fatal(err)
		}
		e, err := day.Decode(envelope.Type, envelope.V, envelope.Data)
		if err != nil {
			t.Fatal(err)
		}
		lowered, can := day.Lower(s, e, 1, envelope.Time)
		run, isRun := e.(day.RunRecorded)
		switch {
		case isRun && run.Sent != "" && can:
			t.Fatalf("version 1 does not know under which name %s was sent: %s", run.ID, envelope.Data)
		case !can && !(isRun && run.Sent != "") && !otherInVersion1[envelope.Type]:
			t.Fatalf("%s %s cannot be written as version 1 had it", envelope.Type, envelope.Data)
		case !can:
			fold(t, old, envelope.Type, envelope.V, envelope.Data, envelope.Time)
		default:
			data, err := json.Marshal(lowered)
			if err != nil {
				t.Fatal(err)
			}
			if version1, _ := asBefore(t, envelope); !sameJSON(t, data, version1) {
				t.Fatalf("%s is written as\n    %s\nwant %s", envelope.Type, data, version1)
			}
			fold(t, old, envelope.Type, 1, data, envelope.Time)
			if day.VersionOf(envelope.Type) > 1 {
				counts[envelope.Type]++
			}
		}
		if after, err := json.Marshal(e); err != nil || !sameJSON(t, after, envelope.Data) {
			t.Fatalf("writing %s another way has changed it to %s, %v", envelope.Data, after, err)
		}
		if unknown, can := day.Lower(s, e, 0, envelope.Time); can {
			t.Fatalf("a program that does not know %s would read %v", envelope.Type, unknown)
		}
		if same, can := day.Lower(s, e, day.VersionOf(envelope.Type), envelope.Time); !can || !reflect.DeepEqual(same, e) {
			t.Fatalf("%s in the version of today is %v", envelope.Type, same)
		}
		fold(t, s, envelope.Type, envelope.V, envelope.Data, envelope.Time)
	}
	told := stateJSON(t, want)
	if got := stateJSON(t, s); !bytes.Equal(got, told) {
		t.Fatalf("looking how events are written has changed the state\n got %s\nwant %s", got, told)
	}
	if got := stateJSON(t, old); !bytes.Equal(got, told) {
		t.Fatalf("in version 1 the log folds to another state\n got %s\nwant %s", got, told)
	}
}

func sameJSON(t testing.TB, a, b []byte) bool {
	t.Helper()
	var both [2]any
	for i, text := range [][]byte{a, b} {
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		if err := d.Decode(&both[i]); err != nil {
			t.Fatal(err)
		}
	}
	return reflect.DeepEqual(both[0], both[1])
}

// TestLowerRefuses what rules of another time would make of the same order: version 1
// would be read by the rules that are frozen with it.
func TestLowerRefuses(t *testing.T) {
	d := play(t, filepath.Join("testdata", "day", "whole_day.txt"))
	heat := firstOf(d.s.Heats)
	entry := firstOf(d.s.Entries)
	for _, e := range []day.Event{
		day.RunRecorded{ID: "r", Sent: "other"},
		day.RunRecorded{ID: "r", Waiting: day.WaitsUnknown, Result: "r"},
		day.StatusRuled{Heat: heat, Status: day.StatusDisqualified, Stands: day.StatusNone},
		day.RerunGranted{Heat: heat, DropsPenaltyUM: 1},
		day.RunAccepted{Heat: heat, SetsAside: "r"},
		day.RunReassigned{Heat: heat, SetsAside: "r"},
		day.HeatVoided{Heat: heat, VoidRuns: []day.RunID{"r"}},
		day.EntryWithdrawn{Entry: entry, Ends: []day.LaneNow{{Heat: heat, Entry: "nobody"}}},
		day.EntryDisqualified{Entry: entry, Ends: []day.LaneNow{{Heat: heat, Entry: "nobody"}}},
		day.EntryReinstated{Entry: entry, Clears: []day.HeatID{heat}},
		day.EntryChanged{ID: entry, Car: d.s.Entries[entry].Car, Division: d.s.Entries[entry].Division, Lapses: day.ReasonCarChanged},
		day.RoundDrawn{Heats: []day.DrawnHeat{{ProtestUntilUS: 1}}},
		day.RoundDrawnAgain{Drawn: day.RoundDrawn{Heats: []day.DrawnHeat{{Out: []day.LaneNow{{Entry: "nobody"}}}}}},
		day.DeciderDrawn{Heat: heat, Again: []day.LaneNow{{Entry: "nobody"}}},
		day.ResultsPosted{Heat: heat, Keeps: []day.LaneNow{{Entry: "nobody"}}},
		day.RoundClosed{FactorSet: 9},
		day.HeatStarted{Heat: heat, EndsUS: 1},
		day.MeetResumed{DeadlinesUS: map[day.HeatID]int64{heat: 1}},
	} {
		if lowered, can := day.Lower(d.s, e, 1, d.s.TimeUS); can {
			t.Errorf("%s %+v would be written as %+v", e.Type(), e, lowered)
		}
	}
}

// firstOf is the first key of a map.
func firstOf[K ~string, V any](m map[K]V) K { return slices.Min(slices.Collect(maps.Keys(m))) }
