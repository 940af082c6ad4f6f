package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"benchmeet/cmd/benchmeet/sheet"
)

// compute runs one computation on a text as the command line would and returns what it printed.
func compute(cmd *cobra.Command, input string) (string, error) {
	var out bytes.Buffer
	cmd.SetArgs([]string{"-"})
	cmd.SetIn(strings.NewReader(input))
	cmd.SetOut(&out)
	cmd.SetErr(&out)
	cmd.SilenceErrors, cmd.SilenceUsage = true, true
	err := cmd.Execute()
	return out.String(), err
}

// squeeze drops the line breaks and indents of printed JSON.
func squeeze(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		lines = append(lines, strings.TrimSpace(line))
	}
	return strings.Join(lines, "")
}

// checkRefusals runs inputs that must not be computed: code 1 is a refusal, code 2 an input that cannot be read.
func checkRefusals(t *testing.T, command func() *cobra.Command, tests []refusalTest) {
	t.Helper()
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := compute(command(), tt.input)
			var no *sheet.Refusal
			if err == nil || errors.As(err, &no) != (tt.code == exitRefused) || !strings.Contains(err.Error(), tt.says) || out != "" {
				t.Errorf("got %q, %v; want code %d and a message with %q", out, err, tt.code, tt.says)
			}
		})
	}
}

type refusalTest struct {
	name, input string
	code        int
	says        string
}

func TestDrawKnockout(t *testing.T) {
	out, err := compute(newDrawCommand(), `{"kind":"knockout","lot_seed":42,
		"entries":[{"id":"C","seed":3},{"id":"A","seed":1,"club":"north"},{"id":"B","seed":2},{"id":"D","seed":4},{"id":"E","seed":5}],
		"options":{"third_place":true}}`)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"lot_seed": 42,"rounds": [` +
		`{"number": 1,"heats": [{"id": "1.1","lanes": ["D","E"]}],"byes": ["A","B","C"]},` +
		`{"number": 2,"heats": [{"id": "2.1","lanes": ["A",{"winner_of": "1.1"}]},{"id": "2.2","lanes": ["B","C"]}]},` +
		`{"number": 3,"heats": [{"id": "3.1","lanes": [{"loser_of": "2.1"},{"loser_of": "2.2"}],"purpose": "third-place"},` +
		`{"id": "3.2","lanes": [{"winner_of": "2.1"},{"winner_of": "2.2"}],"purpose": "final"}]}],"heats_total": 5,"runs_at_least": 1}`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("draw (-want +got):\n%s", diff)
	}
}

// Each kind once, in short: the lanes of every heat.
func TestDrawKinds(t *testing.T) {
	six := `"entries":[{"id":"A","seed":1,"club":"n"},{"id":"B","seed":2},{"id":"C","seed":3},{"id":"D","seed":4},{"id":"E","seed":5},{"id":"F","seed":6,"club":"n"}]`
	tests := []struct {
		name, input string
		want        []string
	}{
		{
			"double elimination", `{"kind":"double-elimination","entries":[{"id":"A","seed":1},{"id":"B","seed":2},{"id":"C","seed":3}]}`,
			[]string{
				`"id": "1.1","lanes": ["B","C"]`, `"byes": ["A"]`, `"id": "2.1","lanes": ["A",{"winner_of": "1.1"}]`,
				`"part": "losers"`, `"id": "3.1","lanes": [{"loser_of": "1.1"},{"loser_of": "2.1"}]`,
				`"id": "4.1","lanes": [{"winner_of": "2.1"},{"winner_of": "3.1"}],"purpose": "final"`,
				`"id": "5.1","lanes": [{"winner_of": "4.1"},{"loser_of": "4.1"}],"purpose": "second-final","if_needed": true`, `"heats_total": 5`,
			},
		},
		{
			"knockout with a plate in two legs", `{"kind":"knockout",` + six + `,"options":{"plate":true,"legs":2}}`,
			[]string{
				`"part": "plate"`, `"lanes": [{"loser_of": "1.1"},{"loser_of": "2.2"}]`, `"purpose": "plate-final"`, `"legs": 2`, `"runs_at_least": 2`,
			},
		},
		{
			"round robin twice", `{"kind":"round-robin",` + six + `,"options":{"cycles":2}}`,
			[]string{`"id": "1.1","lanes": ["A","F"]`, `"id": "4.1","lanes": ["C","F"]`, `"id": "10.3","lanes": ["A","E"]`, `"heats_total": 30`},
		},
		{
			"groups and a knockout", `{"kind":"groups",` + six + `,"options":{"groups":2,"advance":2,"separate_clubs":true}}`,
			[]string{
				`"name": "A","entries": ["A","D","E"]`, `"name": "B","entries": ["B","C","F"]`, `"group": "A"`,
				`"lanes": [{"group": "A","place": 1},{"group": "B","place": 2}]`, `"purpose": "final"`, `"heats_total": 9`,
			},
		},
		{
			"heats", `{"kind":"heats",` + six + `,"options":{"lanes":3,"advance":1,"next_best":1,"benches":3}}`,
			[]string{
				`"id": "1.1","lanes": ["A","D","E"]`, `"id": "1.2","lanes": ["B","C","F"]`,
				`"lanes": [{"heat": "1.1","place": 1},{"heat": "1.2","place": 1},{"next_best": 1}],"purpose": "final"`,
			},
		},
		{
			"heats by circle", `{"kind":"heats",` + six + `,"options":{"lanes":4,"heat_order":"circle","centre_lanes":true}}`,
			[]string{`"id": "1.1","lanes": ["F","B","D",null]`, `"id": "1.2","lanes": ["E","A","C",null]`},
		},
		{
			"timed rounds by design", `{"kind":"timed-rounds","entries":[{"id":"A"},{"id":"B"},{"id":"C"},{"id":"D"}],"options":{"lanes":4}}`,
			[]string{
				`"design": "williams"`, `"runs_per_entry": [4,4],"meetings_per_pair": [4,4],"runs_per_entry_and_lane": [1,1]`, `"heats_total": 4`,
			},
		},
		{
			"timed rounds by seed", `{"kind":"timed-rounds",` + six + `,"options":{"lanes":3}}`,
			[]string{`"lanes": ["A","D","E"]`, `"lanes": ["B","C","F"]`, `"heats_total": 2`},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			out, err := compute(newDrawCommand(), tt.input)
			if err != nil {
				t.Fatal(err)
			}
			flat := squeeze(out)
			for _, want := range tt.want {
				if !strings.Contains(flat, want) {
					t.Errorf("%s is missing in\n%s", want, flat)
				}
			}
		})
	}
}

func TestDrawSaysWhatItCouldNotDo(t *testing.T) {
	out, err := compute(newDrawCommand(), `{"kind":"knockout","lot_seed":1,
		"entries":[{"id":"A","club":"n","car":"7"},{"id":"B","club":"n","car":"7"}],"options":{"separate_clubs":true}}`)
	if err != nil {
		t.Fatal(err)
	}
	for _, says := range []string{"A and B share a car: they run one after the other", "A and B, of one club, may meet in round 1"} {
		if !strings.Contains(out, says) {
			t.Errorf("the notes do not say %q:\n%s", says, out)
		}
	}
}

func TestDrawRefuses(t *testing.T) {
	two := `"entries":[{"id":"A"},{"id":"B"}]`
	checkRefusals(t, newDrawCommand, []refusalTest{
		{"unknown kind", `{"kind":"ladder",` + two + `}`, exitRefused, `"ladder"`},
		{"nobody", `{"kind":"knockout","entries":[]}`, exitRefused, "at least 2 entries"},
		{"one entry", `{"kind":"knockout","entries":[{"id":"A"}]}`, exitRefused, "this one has 1"},
		{"an id twice", `{"kind":"knockout","entries":[{"id":"A"},{"id":"A"}]}`, exitRefused, "entry A is listed twice"},
		{"no id", `{"kind":"knockout","entries":[{"id":"A"},{}]}`, exitRefused, "number 2 has no id"},
		{
			"a seed twice", `{"kind":"knockout","entries":[{"id":"A","seed":1},{"id":"B","seed":1}]}`, exitRefused,
			"entries A and B both have the seed 1",
		},
		{"seeds with a hole", `{"kind":"knockout","entries":[{"id":"A","seed":1},{"id":"B","seed":3}]}`, exitRefused, "nobody has the seed 2"},
		{"seed 0", `{"kind":"knockout","entries":[{"id":"A","seed":0},{"id":"B"}]}`, exitRefused, "entry A has the seed 0"},
		{"more seeds than named", `{"kind":"knockout",` + two + `,"options":{"seeds":1}}`, exitRefused, "only 0 entries name a seed"},
		{
			"more lanes than benches", `{"kind":"knockout",` + two + `,"options":{"lanes":4,"benches":3}}`, exitRefused,
			"4 lanes need as many benches",
		},
		{"unknown order", `{"kind":"knockout",` + two + `,"options":{"order":"spiral"}}`, exitRefused, `"spiral"`},
		{"lot seed too large", `{"kind":"knockout","lot_seed":9007199254740992,` + two + `}`, exitRefused, "below 2^53"},
		{
			"siblings in too few heats", `{"kind":"heats","entries":[{"id":"A","car":"7"},{"id":"B","car":"7"}],"options":{"lanes":2,"heats":1}}`,
			exitRefused, "entries A, B: 2 entries share one car",
		},
		{"no cycle", `{"kind":"round-robin",` + two + `,"options":{"cycles":0}}`, exitRefused, "cycles"},
		{"a group of one", `{"kind":"groups",` + two + `,"options":{"groups":2}}`, exitRefused, "at least 2 entries"},
		{
			"third place twice beaten", `{"kind":"double-elimination",` + two + `,"options":{"third_place":true}}`, exitRefused,
			"no heat for third place",
		},
		{"no lanes", `{"kind":"heats",` + two + `}`, exitRefused, "from 2 to 64 lanes"},
		{
			"no design",
			`{"kind":"timed-rounds","entries":[{"id":"A"},{"id":"B"},{"id":"C"},{"id":"D"},{"id":"E"},{"id":"F"},{"id":"G"},{"id":"H"}],"options":{"lanes":4}}`,
			exitRefused, "say how many rounds",
		},
		{"unknown option", `{"kind":"knockout",` + two + `,"options":{"spiral":true}}`, exitUsage, `"spiral"`},
		{"negative lot seed", `{"kind":"knockout","lot_seed":-1,` + two + `}`, exitUsage, "lot_seed"},
		{"not JSON", `{"kind" 7}`, exitUsage, "line 1"},
	})
}

// Options that change nothing are named, one by one; those that mean something are not.
func TestDrawNamesOptionsThatChangeNothing(t *testing.T) {
	four := `"entries":[{"id":"A"},{"id":"B"},{"id":"C"},{"id":"D"}]`
	for file, want := range map[string][]string{
		`{"kind":"round-robin",` + four + `,"options":{"cycles":2,"benches":4}}`: nil,
		`{"kind":"round-robin",` + four +
			`,"options":{"third_place":true,"advance":1}}`: {"third_place has no meaning for the kind round-robin", "advance has no meaning"},
		`{"kind":"knockout",` + four +
			`,"options":{"lines":"quarters"}}`: {"lines goes with the order by-lot"},
		`{"kind":"knockout",` + four +
			`,"options":{"lanes":4,"plate":true,"third_place":true}}`: {"plate is left out", "lanes has no meaning"},
		`{"kind":"timed-rounds","entries":[{"id":"A","seed":1},{"id":"B"}],"options":{"lanes":2,"rounds":2}}`: {"1 of 2 entries name a seed"},
	} {
		out := decodeOutput[sheet.DrawOutput](t, newDrawCommand(), file)
		if len(out.Notes) != len(want) {
			t.Errorf("%s: notes %v, want %d", file, out.Notes, len(want))
			continue
		}
		for i, text := range want {
			if !strings.Contains(out.Notes[i].Says, text) {
				t.Errorf("%s: note %q, want one that says %q", file, out.Notes[i].Says, text)
			}
		}
	}
}
