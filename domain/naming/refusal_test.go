package naming_test

import (
	"regexp"
	"strings"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/naming"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// ids are those of the day below, none of which may stand in a sentence.
var ids = regexp.MustCompile(`junior-7|senior-7|bench-seven|entry-f|junior-7-L1|protest-q|\{|\?`)

// aDay is a meet in which nothing is called as its id is.
func aDay() *day.State {
	s := day.New()
	for _, e := range []day.Event{
		day.MeetPlanned{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"}, Rules: day.UsualRules()},
		day.DivisionAdded{Division: division("junior-7", "Juniors")},
		day.DivisionAdded{Division: division("senior-7", "Seniors")},
		day.BenchAdded{Bench: day.Bench{ID: "bench-seven", Number: 3, CircumferenceUM: 94_248, Marks: 1}},
		day.EntryTaken{ID: "entry-f", Division: "junior-7", StartNumber: 41, Entrant: "p1", Car: "c1"},
		day.RoundDrawn{Division: "junior-7", Stage: 1, Round: 1, Seeds: []day.EntryID{"entry-f"}, Heats: []day.DrawnHeat{
			{Entries: []day.EntryID{"entry-f"}},
		}},
		day.RunRecorded{ID: "junior-7-1.1.1-L1-1", Bench: "bench-seven", Heat: "junior-7-1.1.1", Entry: "entry-f", Source: day.SourceHand},
		day.RunRecorded{ID: "junior-7-1.1.1-L1-2", Bench: "bench-seven", Source: day.SourceHand, Waiting: "unknown-run"},
		day.ProtestLodged{ID: "protest-q", Heat: "junior-7-1.1.1", Entry: "entry-f", By: "somebody"},
	} {
		day.Evolve(s, e, 1_800_000_000_000_000)
	}
	return s
}

func division(id day.DivisionID, name string) day.Division {
	return day.Division{ID: id, Name: name, AgeTo: 12, Stages: []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "lanes": 1, "rule": "best"}),
	}}
}

// TestNoSentenceSaysAnID words every refusal there is in a day, its arguments being ids of
// that day wherever they are named after such a thing.
func TestNoSentenceSaysAnID(t *testing.T) {
	s := aDay()
	named := map[string]any{
		"heat": day.HeatID("junior-7-1.1.1"), "before": day.HeatID("junior-7-1.1.1"),
		"division": day.DivisionID("junior-7"), "into": day.DivisionID("senior-7"),
		"bench": day.BenchID("bench-seven"), "entry": day.EntryID("entry-f"),
		"run": day.RunID("junior-7-1.1.1-L1-1"), "protest": day.ProtestID("protest-q"),
	}
	places := regexp.MustCompile(`\{([a-z_]+)\}`)
	said := 0
	for _, code := range refusal.Codes() {
		var pairs []any
		for _, place := range places.FindAllStringSubmatch(refusal.New(code).Error(), -1) {
			value, is := named[place[1]]
			if !is {
				value = "three"
			} else {
				said++
			}
			pairs = append(pairs, place[1], value)
		}
		err := naming.Refusal(s, refusal.New(code, pairs...))
		if found := ids.FindString(err.Error()); found != "" {
			t.Errorf("%s says %q: %s", code, found, err)
		}
		if twice := regexp.MustCompile(`(?i)heat juniors|bench bench| in in `).FindString(err.Error()); twice != "" {
			t.Errorf("%s says %q: %s", code, twice, err)
		}
	}
	if said < 90 {
		t.Errorf("only %d places of sentences were named", said)
	}
}

func TestThings(t *testing.T) {
	s := aDay()
	for _, test := range []struct {
		id   any
		want string
	}{
		{day.HeatID("junior-7-1.1.1"), "Juniors, round 1, heat 1"},
		{day.DivisionID("senior-7"), "Seniors"},
		{day.BenchID("bench-seven"), "3"},
		{day.EntryID("entry-f"), "41"},
		{day.RunID("junior-7-1.1.1-L1-1"), "start number 41 in Juniors, round 1, heat 1"},
		{day.RunID("junior-7-1.1.1-L1-2"), "bench 3 without a heat"},
		{day.ProtestID("protest-q"), "start number 41 in Juniors, round 1, heat 1"},
	} {
		if got, known := naming.Thing(s, test.id); !known || got.Says != test.want {
			t.Errorf("%v is called %q, want %q", test.id, got.Says, test.want)
		}
	}
	for _, unknown := range []any{
		day.HeatID("x"), day.DivisionID("x"), day.BenchID("x"), day.EntryID("x"), day.RunID("x"), "junior-7", 3, nil,
	} {
		if got, known := naming.Thing(s, unknown); known {
			t.Errorf("%v is called %q, and is nothing of this day", unknown, got.Says)
		}
	}
	no := naming.Refusal(s, refusal.New("promise-short", "division", day.DivisionID("junior-7"), "sure", 1, "promised", 3))
	if !strings.Contains(no.Error(), "programme of division “Juniors” makes sure of 1") {
		t.Error(no)
	}
}
