package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/cmd/benchmeet/sheet"
)

func TestRankTimed(t *testing.T) {
	out, err := compute(newRankCommand(), `{"measure":"distance_m","better":"more","rule":"best","tie_breaks":["next-best"],
		"close":{"confidence":0.95},"entries":["A","B","C","D","E"],"statuses":{"E":"disqualified"},
		"runs":[{"round":1,"entry":"A","value":231.2,"u":0.1},{"round":1,"entry":"B","value":231.2,"u":0.1},
			{"round":2,"entry":"B","value":230.000000001},{"round":1,"entry":"C","value":10,"u":0.1},{"round":1,"entry":"D","value":null},
			{"round":1,"entry":"E","value":300}]}`)
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"rank": 1,"entry": "B","value": 231.2,"runs": 1,"tie_breaks": {"next-best": 230.000000001},"decided_by": "next-best","too_close_to": ["A"]},` +
		`{"rank": 2,"entry": "A","value": 231.2,"runs": 1,"decided_by": "next-best","too_close_to": ["B"]},` +
		`{"rank": 3,"entry": "C","value": 10,"runs": 1,"decided_by": "result"},` +
		`{"rank": null,"entry": "D","runs": 0,"status": "did-not-start"},` +
		`{"rank": null,"entry": "E","value": 300,"runs": 1,"status": "disqualified"}]`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

func TestRankTimedMeanIsExact(t *testing.T) {
	out, err := compute(newRankCommand(), `{"measure":"time_s","rule":"mean","entries":["A","B"],
		"runs":[{"round":1,"entry":"A","value":0.1},{"round":2,"entry":"A","value":0.2},{"round":1,"entry":"B","value":0.3},{"round":2,"entry":"B","value":0.0}]}`)
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"rank": 1,"entry": "A","value": 0.15,"runs": 2,"decided_by": "shared"},{"rank": 1,"entry": "B","value": 0.15,"runs": 2,"decided_by": "shared"}]`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

func TestRankPoints(t *testing.T) {
	out, err := compute(newRankCommand(), `{"scoring":{"win":1,"draw":0.5,"loss":0,"bye":1},"tie_breaks":["direct","buchholz","sonneborn-berger"],
		"entries":["A","B","C"],"results":[{"round":1,"a":"A","b":"B","a_points":0.5,"b_points":0.5,"played":true},{"round":1,"a":"C","b":null,"a_points":1},
			{"round":2,"a":"B","b":"C","a_points":1,"b_points":0},{"round":2,"a":"A","b":null}]}`)
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"rank": 1,"entry": "A","points": 1.5,"tie_breaks": {"buchholz": 3,"direct": 0.5,"sonneborn-berger": 2.25},"decided_by": "buchholz"},` +
		`{"rank": 2,"entry": "B","points": 1.5,"tie_breaks": {"buchholz": 2.5,"direct": 0.5,"sonneborn-berger": 1.75},"decided_by": "buchholz"},` +
		`{"rank": 3,"entry": "C","points": 1,"tie_breaks": {"buchholz": 2.5,"sonneborn-berger": 1},"decided_by": "points"}]`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

func TestRankPlaces(t *testing.T) {
	out, err := compute(newRankCommand(), `{"scoring":{"win":1,"places":[3,2,1]},"tie_breaks":["countback"],"entries":["A","B","C"],
		"results":[{"round":1,"places":{"A":1,"B":2,"C":3}},{"round":2,"places":{"C":1,"B":2,"A":null}}]}`)
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"rank": 1,"entry": "C","points": 4,"tie_breaks": {"countback": 1},"decided_by": "countback"},` +
		`{"rank": 2,"entry": "B","points": 4,"tie_breaks": {"countback": 0},"decided_by": "countback"},` +
		`{"rank": 3,"entry": "A","points": 3,"tie_breaks": {"countback": 1},"decided_by": "points"}]`
	if diff := cmp.Diff(want, squeeze(out)); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

// Two who share the first place share the points of the first two; a file may say otherwise.
func TestRankSharesThePointsOfSharedPlaces(t *testing.T) {
	for scoring, want := range map[string]string{
		`{"places":[5,3,2,1]}`:                      "4 4 2 1",
		`{"places":[5,3,2,1],"share_places":true}`:  "4 4 2 1",
		`{"places":[5,3,2,1],"share_places":false}`: "5 5 2 1",
	} {
		rows := decodeOutput[[]sheet.RankRow](
			t, newRankCommand(), `{"scoring":`+scoring+`,"entries":["A","B","C","D"],"results":[{"round":1,"places":{"A":1,"B":1,"C":3,"D":4}}]}`,
		)
		var got []string
		for _, r := range rows {
			got = append(got, string(r.Points))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: points %v, want %s", scoring, got, want)
		}
	}
}

// A status that the file states holds whatever runs there are, by the rules of the file, and is shown.
func TestRankKeepsStatuses(t *testing.T) {
	rows := decodeOutput[[]sheet.RankRow](t, newRankCommand(), `{"measure":"distance_m","rule":"best","entries":["A","B","C","D"],
		"statuses":{"A":"did-not-start","B":"did-not-finish"},"status_rules":{"did-not-start":"stands"},
		"runs":[{"round":1,"entry":"A","value":10},{"round":1,"entry":"B","value":12},{"round":1,"entry":"C","value":11}]}`)
	var got []string
	for _, r := range rows {
		rank := 0
		if r.Rank != nil {
			rank = *r.Rank
		}
		got = append(got, fmt.Sprintf("%d %s %s", rank, r.Entry, r.Status))
	}
	if diff := cmp.Diff([]string{"1 C ", "2 A did-not-start", "3 D did-not-start", "4 B did-not-finish"}, got); diff != "" {
		t.Errorf("ranking (-want +got):\n%s", diff)
	}
}

// What a file does not say of a result is not known, and never exact.
func TestRankTooCloseWithoutUncertainties(t *testing.T) {
	for name, tt := range map[string]struct {
		a, b string
		want []string
	}{
		"u on both":              {`"u":0.1`, `"u":0.1`, nil},
		"no u":                   {``, `"u":0.1`, []string{"B"}},
		"exact":                  {`"u":0`, `"u":0`, nil},
		"an interval that meets": {`"low":229,"high":232`, `"u":0.1`, []string{"B"}},
		"and one that does not":  {`"low":230.9,"high":239`, `"u":0.1`, nil},
		"only a lower bound":     {`"u":0.1`, `"low":229.9`, []string{"B"}},
	} {
		run := func(id, value, more string) string {
			if more != "" {
				more = "," + more
			}
			return `{"round":1,"entry":"` + id + `","value":` + value + more + `}`
		}
		rows := decodeOutput[[]sheet.RankRow](t, newRankCommand(), `{"measure":"distance_m","rule":"best","close":{"confidence":0.95},"entries":["A","B"],"runs":[`+
			run("A", "231", tt.a)+","+run("B", "230", tt.b)+`]}`)
		if diff := cmp.Diff(tt.want, rows[0].TooCloseTo); diff != "" {
			t.Errorf("%s: A is too close to (-want +got):\n%s", name, diff)
		}
	}
}

func TestRankPointsRefuses(t *testing.T) {
	with := func(results string) string {
		return `{"scoring":{"win":1},"entries":["A","B"],"results":[` + results + `]}`
	}
	checkRefusals(t, newRankCommand, []refusalTest{
		{"a stranger", with(`{"round":1,"a":"A","b":"Z","a_points":1,"b_points":0}`), exitRefused, `entry "Z"`},
		{
			"two results in a round", with(`{"round":1,"a":"A","b":"B","a_points":1,"b_points":0},{"round":1,"a":"A","b":null}`), exitRefused,
			"entry A has two results in round 1",
		},
		{"unknown tie-break", `{"scoring":{"win":1},"tie_breaks":["age"],"entries":["A"],"results":[]}`, exitRefused, `"age"`},
		{"unknown edition", `{"scoring":{"win":1},"unplayed":"1999","entries":["A"],"results":[]}`, exitRefused, `"1999"`},
		{"a rating of somebody else", `{"scoring":{"win":1},"ratings":{"Z":1500},"entries":["A"],"results":[]}`, exitRefused, `entry "Z"`},
		{"places and a pair", with(`{"round":1,"a":"A","places":{"B":1}}`), exitRefused, "number 1 names places and two entries"},
		{"measure and scoring", `{"measure":"laps","rule":"best","scoring":{"win":1},"entries":["A"]}`, exitRefused, "apart"},
		{"points for a loss", `{"scoring":{"win":3,"loss":1},"entries":["A"],"results":[]}`, exitRefused, "scoring.loss"},
		{"no points", with(`{"round":1,"a":"A","b":"B"}`), exitUsage, "number 1: a_points and b_points of A and B"},
		{"exponent", with(`{"round":1,"a":"A","b":"B","a_points":1e0,"b_points":0}`), exitUsage, "a_points"},
		{"an empty opponent", with(`{"round":1,"a":"A","b":"","a_points":1,"b_points":0}`), exitUsage, "null stands for a bye"},
		{"unknown field", with(`{"round":1,"a":"A","winner":"A"}`), exitUsage, `"winner"`},
	})
}

func TestRankTimedRefuses(t *testing.T) {
	with := func(runs string) string {
		return `{"measure":"time_s","rule":"best","entries":["A"],"runs":[` + runs + `]}`
	}
	checkRefusals(t, newRankCommand, []refusalTest{
		{"unknown measure", `{"measure":"weight_g","entries":["A"]}`, exitRefused, `"weight_g"`},
		{"unknown rule", `{"measure":"laps","rule":"mode","entries":["A"]}`, exitRefused, `"mode"`},
		{"unknown tie-break", `{"measure":"laps","rule":"best","tie_breaks":["age"],"entries":["A"]}`, exitRefused, `"age"`},
		{"an entry twice", `{"measure":"laps","rule":"best","entries":["A","A"]}`, exitRefused, "entry A is listed twice"},
		{"a run of somebody else", with(`{"round":1,"entry":"B","value":1}`), exitRefused, `entry "B"`},
		{"a status of somebody else", `{"measure":"laps","rule":"best","entries":["A"],"statuses":{"B":"withdrawn"}}`, exitRefused, `entry "B"`},
		{"two runs in a round", with(`{"round":1,"entry":"A","value":1},{"round":1,"entry":"A","value":2}`), exitRefused, "two runs in round 1"},
		{"an interval beside its value", with(`{"round":1,"entry":"A","value":2,"low":2.1}`), exitRefused, "does not hold its value"},
		{"negative value", with(`{"round":1,"entry":"A","value":-1}`), exitRefused, "entry A"},
		{"exponent", with(`{"round":1,"entry":"A","value":1e3}`), exitUsage, "entry A in round 1"},
		{"ten places", with(`{"round":1,"entry":"A","value":0.1234567891}`), exitUsage, "at most 9 decimal places"},
		{"a word for a value", with(`{"round":1,"entry":"A","value":"fast"}`), exitUsage, ""},
		{"unknown field", with(`{"round":1,"entry":"A","speed":1}`), exitUsage, `"speed"`},
		{"neither runs nor results", `{"entries":["A"]}`, exitUsage, `"measure"`},
	})
}
