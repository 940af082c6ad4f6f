package club_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"benchmeet/domain/club"
	"benchmeet/domain/meet"
)

// TestRandomClubsAreLowered writes random logs as version 1 had them, which a program that
// reads no other takes for the same club. Refused is what version 1 cannot say: that a
// change counts from before it came, and that a run was sent under another name than it is
// kept under.
func TestRandomClubsAreLowered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tb := noTB{t: t}
		s, old, now := club.New(), club.New(), int64(clubStart)
		for range rapid.IntRange(1, 80).Draw(t, "commands") {
			now += rapid.SampledFrom([]int64{0, 1_000_000}).Draw(t, "later")
			events, err := club.Decide(s, command(t), meet.Meta{Actor: "organiser", NowUS: now})
			if err != nil {
				continue
			}
			for _, e := range events {
				lowered, can := club.Lower(s, e, 1, now)
				if can == saysMore(e) {
					t.Fatalf("%s %+v can be written as version 1 had it: %v", e.Type(), e, can)
				}
				version, data := club.VersionOf(e.Type()), written(tb, e)
				if can {
					version, data = 1, written(tb, lowered)
				}
				for _, field := range []string{`"sent"`, `"armed"`, `"noted_us"`} {
					if can && (e.Type() == "PracticeRecorded" || e.Type() == "CarChanged") && bytes.Contains(data, []byte(field)) {
						t.Fatalf("version 1 did not know %s: %s", field, data)
					}
				}
				read, err := club.Decode(e.Type(), version, data)
				if err != nil {
					t.Fatal(err)
				}
				club.Evolve(old, read, now)
				if unknown, can := club.Lower(s, e, 0, now); can {
					t.Fatalf("a program that does not know %s would read %v", e.Type(), unknown)
				}
				if same, can := club.Lower(s, e, club.VersionOf(e.Type()), now); !can || !reflect.DeepEqual(same, e) {
					t.Fatalf("%s in the version of today is %v", e.Type(), same)
				}
				club.Evolve(s, e, now)
			}
		}
		if want, got := stateJSON(tb, s), stateJSON(tb, old); !bytes.Equal(want, got) {
			t.Fatalf("in version 1 the log folds to another state\n got %s\nwant %s", got, want)
		}
	})
}

// saysMore says whether an event says what version 1 could not.
func saysMore(e club.Event) bool {
	switch e := e.(type) {
	case club.PracticeRecorded:
		return e.Sent != ""
	case club.CarChanged:
		return e.NotedUS != 0
	}
	return false
}

func written(t testing.TB, e club.Event) []byte {
	t.Helper()
	data, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestLower has each event that has changed, where version 1 says all of it and where not.
func TestLower(t *testing.T) {
	asked := club.New()
	asked.Armed["b1"] = club.Armed{Run: "practice-b1-1"}
	for _, tt := range []struct {
		name string
		e    club.Event
		can  bool
	}{
		{"a change when it came", club.CarChanged{Car: "c", State: 1, By: "o"}, true},
		{"a change noted before", club.CarChanged{Car: "c", State: 1, NotedUS: 5, By: "o"}, false},
		{"the run that was asked for", club.PracticeRecorded{ID: "practice-b1-1", Bench: "b1", Armed: true}, true},
		{"that run, which is not made by it", club.PracticeRecorded{ID: "practice-b1-1", Bench: "b1"}, false},
		{"another run, which is made by it", club.PracticeRecorded{ID: "free", Bench: "b1", Armed: true}, false},
		{"under another name", club.PracticeRecorded{ID: "free.aa", Sent: "free", Bench: "b1"}, false},
		{"one that has not changed", club.BenchRetired{Bench: "b1"}, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			lowered, can := club.Lower(asked, tt.e, 1, clubStart)
			if can != tt.can {
				t.Fatalf("got %+v, %v", lowered, can)
			}
		})
	}
}
