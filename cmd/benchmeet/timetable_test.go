package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
)

// timetableRounds is the command as "timetable --rounds 200".
func timetableRounds() *cobra.Command {
	cmd := newTimetableCommand()
	if err := cmd.Flags().Set("rounds", "200"); err != nil {
		panic(err)
	}
	return cmd
}

// A rests 600 between 1.1 and 1.3, and the final follows: 240 + 600 + 240 + 240. One bench of four is out until
// 400, so that 1.2 waits for it and for nothing else.
func TestTimetableExampleOfHelp(t *testing.T) {
	from := strings.Index(sheet.TimetableHelp, "  {")
	example := sheet.TimetableHelp[from : from+strings.Index(sheet.TimetableHelp[from:], "\n\n")]
	out, err := compute(timetableRounds(), example)
	if err != nil {
		t.Fatal(err)
	}
	var got sheet.TimetableOutput
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if got.Makespan != 1320 || got.LowerBound != 1320 || !got.Proved || got.Why != "rest of entry A" || got.Unit != "s" {
		t.Errorf("got %+v, want a proved length of 1320 by the rest of entry A", got)
	}
	if len(got.Starts) != 4 || got.Starts["1.1"] != 0 && got.Starts["1.3"] != 0 || got.Starts["final"] != 1080 {
		t.Errorf("starts %v", got.Starts)
	}
	for id, names := range got.Benches {
		if len(names) != 2 || names[0] == names[1] {
			t.Errorf("%s runs on %v, want two benches", id, names)
		}
	}
}

func TestTimetableSameAnswer(t *testing.T) {
	file := `{"resources":{"bench":3},"activities":[{"id":"a","duration":7,"needs":{"bench":1}},{"id":"b","duration":5,"needs":{"bench":2}},
		{"id":"c","duration":4,"needs":{"bench":2}},{"id":"d","duration":3,"needs":{"bench":1},"entries":["X"]},{"id":"e","duration":2,"needs":{"bench":1},"entries":["X"]}]}`
	one, err := compute(timetableRounds(), file)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		two, err := compute(timetableRounds(), file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(one, two); diff != "" {
			t.Fatalf("the same file gave another answer:\n%s", diff)
		}
	}
}

func TestTimetableKeepsNamedOutagesAndWhatHasBegun(t *testing.T) {
	got := decodeOutput[sheet.TimetableOutput](t, timetableRounds(), `{"unit":"min","benches":["left","right"],
		"activities":[{"id":"a","duration":4,"needs":{"bench":1}},{"id":"b","duration":4,"needs":{"bench":1}},{"id":"c","duration":4,"needs":{"bench":1}}],
		"outages":[{"bench":"left","from":2,"to":6}],"fixed":{"b":1}}`)
	// b runs on the right until 5; the left is out from 2 to 6 and free from 6 on; a and c share what is left.
	want := sheet.TimetableOutput{
		Unit: "min", Makespan: 10, LowerBound: got.LowerBound, Proved: got.Proved, Greedy: got.Greedy, Why: got.Why,
		Starts: got.Starts, Benches: map[string][]string{"a": got.Benches["a"], "b": {"right"}, "c": got.Benches["c"]},
	}
	if diff := cmp.Diff(want, got); diff != "" || got.Starts["b"] != 1 {
		t.Errorf("(-want +got):\n%s\nstarts %v", diff, got.Starts)
	}
}

// What has begun keeps its benches: the other heat gets the one that is left.
func TestTimetableKeepsBenches(t *testing.T) {
	out, err := compute(timetableRounds(), `{"resources":{"bench":3},"activities":[{"id":"a","duration":5,"needs":{"bench":2}},
		{"id":"b","duration":5,"needs":{"bench":1}}],"fixed":{"a":{"start":0,"benches":["b3","b1"]}}}`)
	if err != nil {
		t.Fatal(err)
	}
	var got sheet.TimetableOutput
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(map[string][]string{"a": {"b3", "b1"}, "b": {"b2"}}, got.Benches); d != "" || got.Makespan != 5 {
		t.Errorf("length %d, benches %s", got.Makespan, d)
	}
}

func TestTimetableRefuses(t *testing.T) {
	one := `"activities":[{"id":"x","duration":10,"needs":{"bench":1}}]`
	checkRefusals(t, timetableRounds, []refusalTest{
		{
			"too much needed", `{"resources":{"bench":2},"activities":[{"id":"1.1","duration":1,"needs":{"bench":3}}]}`, exitRefused,
			"Activity 1.1 needs 3 of bench, and there are only 2",
		},
		{
			"a circle", `{"activities":[{"id":"a","duration":1,"after":["b"]},{"id":"b","duration":1,"after":["a"]}]}`, exitRefused,
			"a after b after a",
		},
		{"after itself", `{"activities":[{"id":"a","duration":1,"after":["a"]}]}`, exitRefused, "a after a"},
		{
			"due too early", `{"activities":[{"id":"a","duration":10},{"id":"b","duration":5,"after":["a"],"due":14}]}`, exitRefused,
			"Activity b is due by 14, and by the rules it cannot end before 15",
		},
		{
			"due against work",
			`{"resources":{"bench":1},"activities":[{"id":"a","duration":10,"needs":{"bench":1}},{"id":"b","duration":10,"needs":{"bench":1}},{"id":"c","duration":5,"after":["a","b"],"due":24}]}`,
			exitRefused, "Activity c is due by 24, and by the rules it cannot end before 25",
		},
		{
			"two dues at once",
			`{"resources":{"bench":1},"activities":[{"id":"a","duration":10,"needs":{"bench":1},"due":15},{"id":"b","duration":10,"needs":{"bench":1},"due":15},{"id":"c","duration":1,"needs":{"bench":1},"due":99}]}`,
			exitRefused,
			"The due times of these activities cannot all be kept, and if any one of them were given up this would no longer be sure: a, b.",
		},
		{"unknown resource", `{` + one + `}`, exitRefused, `“bench”`},
		{"unknown after", `{"activities":[{"id":"a","duration":1,"after":["z"]}]}`, exitRefused, "“z”"},
		{"an id twice", `{"activities":[{"id":"a"},{"id":"a"}]}`, exitRefused, "Activity a is listed twice"},
		{"an entry twice", `{"activities":[{"id":"a","entries":["A","A"]}]}`, exitRefused, "names the entry A twice"},
		{
			"fewer names than benches", `{"resources":{"bench":3},"benches":["b1"],` + one + `}`, exitRefused,
			"Of bench there are 3, but 1 are named",
		},
		{"outage of nobody", `{"resources":{"bench":1},` + one + `,"outages":[{"bench":"b7","from":0,"to":5}]}`, exitRefused, "“b7”"},
		{
			"outage without amount", `{"resources":{"bench":1},` + one + `,"outages":[{"resource":"bench","from":0,"to":5}]}`, exitRefused,
			"outage number 1",
		},
		{"outage for ever", `{"resources":{"bench":1},` + one + `,"outages":[{"bench":"b1","from":5}]}`, exitRefused, "Activity x can never run"},
		{
			"fixed before its release", `{"activities":[{"id":"a","duration":5,"release":9}],"fixed":{"a":3}}`, exitRefused,
			"Activity a is fixed at 3",
		},
		{
			"fixed before what comes first", `{"activities":[{"id":"a","duration":5},{"id":"b","duration":5,"after":["a"]}],"fixed":{"b":3}}`,
			exitRefused, "comes after a",
		},
		{
			"two fixed on one bench",
			`{"resources":{"bench":1},"activities":[{"id":"a","duration":5,"needs":{"bench":1}},{"id":"b","duration":5,"needs":{"bench":1}}],"fixed":{"a":0,"b":3}}`,
			exitRefused, "Activity b is fixed at 3",
		},
		{
			"fixed on more benches than it needs",
			`{"resources":{"bench":2},"activities":[{"id":"a","duration":5,"needs":{"bench":1}}],"fixed":{"a":{"start":0,"benches":["b1","b2"]}}}`,
			exitRefused, "Activity a cannot have b1, b2",
		},
		{
			"dues and an outage that cannot all hold",
			`{"resources":{"bench":2},"activities":[{"id":"a","duration":5,"needs":{"bench":1},"due":8},{"id":"b","duration":5,"needs":{"bench":1},"due":8},
				{"id":"c","duration":5,"due":80}],"outages":[{"bench":"b2","from":0,"to":7}]}`,
			exitRefused, "a ends by 8; b ends by 8; bench b2 out from 0 to 7",
		},
		{
			"two fixed of one entry",
			`{"activities":[{"id":"a","duration":5,"entries":["A"]},{"id":"b","duration":5,"entries":["A"]}],"rest":{"default":4},"fixed":{"a":0,"b":8}}`,
			exitRefused, "entry A",
		},
		{"unit", `{"unit":"weeks"}`, exitRefused, `"weeks"`},
		{"negative", `{"activities":[{"id":"a","duration":-1}]}`, exitRefused, "The duration of a is -1"},
		{"unknown field", `{"colour":1}`, exitUsage, "colour"},
		{"part of a second", `{"activities":[{"id":"a","duration":1.5}]}`, exitUsage, "duration"},
	})
}

func TestTimetableOfNothing(t *testing.T) {
	got := decodeOutput[sheet.TimetableOutput](t, timetableRounds(), `{}`)
	if got.Makespan != 0 || !got.Proved || len(got.Starts) != 0 {
		t.Errorf("got %+v", got)
	}
}

func TestTimetableFlags(t *testing.T) {
	for _, args := range [][]string{{"--rounds", "0"}, {"--seconds", "-1"}, {"--seconds", "NaN"}, {"--seconds", "1", "--rounds", "5"}} {
		cmd := newTimetableCommand()
		cmd.SilenceErrors, cmd.SilenceUsage = true, true
		cmd.SetIn(strings.NewReader("{}"))
		var out strings.Builder
		cmd.SetOut(&out)
		cmd.SetArgs(append(args, "-"))
		if err := cmd.Execute(); err == nil || out.Len() > 0 {
			t.Errorf("%v: got %q, %v; want a refusal", args, out.String(), err)
		}
	}
}
