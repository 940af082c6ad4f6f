package main

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestRankTimed(t *testing.T) {
	out, err := compute(newRankCommand(), `{"measure":"distance_m","better":"more","rule":"best","tie_breaks":["next-best"],
		"close":{"confidence":0.95},"entries":["A","B","C","D","E"],"statuses":{"E":"disqualified"},
		"runs":[{"round":1,"entry":"A","value":231.2,"u":0.1},{"round":1,"entry":"B","value":231.2,"u":0.1},
			{"round":2,"entry":"B","value":230.000000001},{"round":1,"entry":"C","value":10},{"round":1,"entry":"D","value":null},
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
		{"negative value", with(`{"round":1,"entry":"A","value":-1}`), exitRefused, "entry A"},
		{"exponent", with(`{"round":1,"entry":"A","value":1e3}`), exitUsage, "entry A in round 1"},
		{"ten places", with(`{"round":1,"entry":"A","value":0.1234567891}`), exitUsage, "at most 9 decimal places"},
		{"a word for a value", with(`{"round":1,"entry":"A","value":"fast"}`), exitUsage, ""},
		{"unknown field", with(`{"round":1,"entry":"A","speed":1}`), exitUsage, `"speed"`},
		{"neither runs nor results", `{"entries":["A"]}`, exitUsage, `"measure"`},
	})
}
