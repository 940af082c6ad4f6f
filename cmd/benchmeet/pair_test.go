package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/cmd/benchmeet/sheet"
)

func TestPair(t *testing.T) {
	out, err := compute(newPairCommand(), `{"round":2,"rounds_total":5,"lot_seed":42,"entries":[
		{"id":"E","rank":5,"points":1,"opponents":[null],"sides":[""],"floats":["down"],"bye":true},
		{"id":"A","rank":1,"points":1,"opponents":["C"],"sides":["L"],"floats":[""]},
		{"id":"B","rank":2,"points":0.5,"opponents":["D"],"sides":["R"]},
		{"id":"C","rank":3,"points":0,"opponents":["A"],"sides":["R"]},
		{"id":"D","rank":4,"points":0.5,"opponents":["B"],"sides":["L"]}]}`)
	if err != nil {
		t.Fatal(err)
	}
	// A and E have most points and could meet, but then B and D would meet again.
	want := `{"heats": [["B","A"],["E","D"]],"bye": "C","why": [` +
		`{"heat": ["B","A"],"reasons": ["floats-down","sides-wished"],"says": "one with more points meets the score group below; both get the side they are due"},` +
		`{"heat": ["E","D"],"reasons": ["floats-down","side-of-one"],"says": "one with more points meets the score group below; one is due a side and gets it"},` +
		`{"bye": "C","reasons": ["bye-lowest"],"says": "the lowest who may have a bye"}]}`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("pairing (-want +got):\n%s", diff)
	}
}

// The example of the help is a file that can be paired: A and B lead and are due the sides that they had not, and of C
// and D, who may both have the bye, D is the lower.
func TestPairHelpExample(t *testing.T) {
	start, end := strings.Index(sheet.PairHelp, "{"), strings.LastIndex(sheet.PairHelp, "}")
	out, err := compute(newPairCommand(), sheet.PairHelp[start:end+1])
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Heats [][2]string
		Bye   string
	}
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([][2]string{{"B", "A"}, {"C", "E"}}, got.Heats); diff != "" {
		t.Errorf("heats (-want +got):\n%s", diff)
	}
	if got.Bye != "D" {
		t.Errorf("bye of %s, want D", got.Bye)
	}
}

// What had to give way is said in words: a side for the third time, a second bye, a rematch.
func TestPairSaysWhatGaveWay(t *testing.T) {
	tests := []struct{ name, entries, says string }{
		{"sides", `{"id":"A","sides":["L","L"]},{"id":"B","sides":["L","L"]}`, "a side is given too often"},
		{"bye", `{"id":"A","bye":true}`, "a second bye"},
		{"rematch", `{"id":"A","opponents":["B"]},{"id":"B","opponents":["A"]}`, "the two meet again"},
		{"nothing", `{"id":"A"},{"id":"B"},{"id":"C","withdrawn":true}`, "same score group"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := compute(newPairCommand(), `{"round":3,"rounds_total":9,"entries":[`+tt.entries+`]}`)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(out, tt.says) {
				t.Errorf("%q is not said in %s", tt.says, out)
			}
			if gave := strings.Contains(out, "no legal pairing was left"); gave != (tt.name != "nothing") {
				t.Errorf("a rule gave way: %v in %s", gave, out)
			}
		})
	}
}

// A field of any size is paired, and one that is a slip in the file is refused.
func TestPairManyEntries(t *testing.T) {
	field := func(n int) string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprintf(`{"id":"E%d","points":%d}`, i, i%4))
		}
		return `{"round":4,"rounds_total":9,"entries":[` + strings.Join(all, ",") + `]}`
	}
	out, err := compute(newPairCommand(), field(129))
	if err != nil {
		t.Fatal(err)
	}
	var got sheet.PairOutput
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Heats) != 64 || got.Bye == nil || len(got.Why) != 65 {
		t.Errorf("%d heats, %d reasons, bye %v", len(got.Heats), len(got.Why), got.Bye)
	}
	checkRefusals(t, newPairCommand, []refusalTest{{"too many", field(1025), exitRefused, "at most 1024 entries"}})
}

func TestPairRefuses(t *testing.T) {
	with := func(entries string) string {
		return `{"round":2,"rounds_total":5,"entries":[` + entries + `]}`
	}
	checkRefusals(t, newPairCommand, []refusalTest{
		{"nobody", with(""), exitRefused, "nobody is there"},
		{"beyond the last round", `{"round":6,"rounds_total":5,"entries":[{"id":"A"},{"id":"B"}]}`, exitRefused, "round 6 of 5"},
		{"an id twice", with(`{"id":"A"},{"id":"A"}`), exitRefused, "entry A is listed twice"},
		{"no id", with(`{"id":"A"},{}`), exitRefused, "number 2 has no id"},
		{"a rank twice", with(`{"id":"A","rank":1},{"id":"B","rank":1}`), exitRefused, "entries A and B both have the rank 1"},
		{"a rank missing", with(`{"id":"A","rank":1},{"id":"B"}`), exitRefused, "entry B names no rank"},
		{"a stranger", with(`{"id":"A","opponents":["Z"]},{"id":"B"}`), exitRefused, `entry A met "Z"`},
		{"itself", with(`{"id":"A","opponents":["A"]},{"id":"B"}`), exitRefused, "entries A: an entry has met"},
		{
			"a meeting that the other knows nothing of", with(`{"id":"A","opponents":["B"]},{"id":"B","opponents":[null]}`), exitRefused,
			"entries A, B: one has met the other in round 1",
		},
		{
			"a meeting in another round",
			`{"round":3,"rounds_total":5,"entries":[{"id":"A","opponents":["B",null]},{"id":"B","opponents":[null,"A"]}]}`, exitRefused,
			"entries A, B: one has met the other in round 1",
		},
		{
			"two meetings at once", with(`{"id":"A","opponents":["B"]},{"id":"B","opponents":["A"]},{"id":"C","opponents":["A"]}`), exitRefused,
			"entries A, C: one has met the other in round 1",
		},
		{
			"one side for both", with(`{"id":"A","opponents":["B"],"sides":["L"]},{"id":"B","opponents":["A"],"sides":["L"]}`), exitRefused,
			"entries A, B: both have run on one side in round 1",
		},
		{
			"somebody gone who never met it",
			`{"round":3,"rounds_total":5,"entries":[{"id":"A","opponents":["B",null]},{"id":"B","opponents":["C"],"withdrawn":true},{"id":"C","opponents":["B",null]}]}`,
			exitRefused, "entries A, B: one has met the other in its round 1",
		},
		{"a long history", with(`{"id":"A","opponents":["B","B"]},{"id":"B"}`), exitRefused, "entries A: an entry has more rounds behind it"},
		{"an unknown side", with(`{"id":"A","sides":["white"]},{"id":"B"}`), exitRefused, `entry A has had the side "white"`},
		{"an unknown float", with(`{"id":"A","floats":["left"]},{"id":"B"}`), exitRefused, `entry A has the float "left"`},
		{"points beyond counting", with(`{"id":"A","points":1000000000},{"id":"B"}`), exitRefused, "entries A: an entry has more points"},
		{"a worthless win", `{"round":2,"rounds_total":5,"win":-1,"entries":[{"id":"A"},{"id":"B"}]}`, exitRefused, "a win must be worth more"},
		{"points with a word", with(`{"id":"A","points":"many"},{"id":"B"}`), exitUsage, ""},
		{"unknown field", with(`{"id":"A","colour":"white"},{"id":"B"}`), exitUsage, `"colour"`},
	})
}

// Who came late or left has a shorter history, which ends now or where it left.
func TestPairTakesShortHistories(t *testing.T) {
	out := decodeOutput[sheet.PairOutput](t, newPairCommand(), `{"round":3,"rounds_total":5,"entries":[
		{"id":"A","points":2,"opponents":["B","D"]},{"id":"B","points":0,"opponents":["A"],"withdrawn":true},
		{"id":"C","points":1,"opponents":[null,null]},{"id":"D","points":0,"opponents":["A"]}]}`)
	if len(out.Heats) != 1 || out.Bye == nil || *out.Bye != "D" {
		t.Errorf("got %+v", out)
	}
}
