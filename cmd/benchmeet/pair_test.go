package main

import (
	"testing"

	"github.com/google/go-cmp/cmp"
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
		{"a long history", with(`{"id":"A","opponents":["B","B"]},{"id":"B"}`), exitRefused, "entries A: an entry has more rounds behind it"},
		{"an unknown side", with(`{"id":"A","sides":["white"]},{"id":"B"}`), exitRefused, `entry A has had the side "white"`},
		{"an unknown float", with(`{"id":"A","floats":["left"]},{"id":"B"}`), exitRefused, `entry A has the float "left"`},
		{"points with a word", with(`{"id":"A","points":"many"},{"id":"B"}`), exitUsage, ""},
		{"unknown field", with(`{"id":"A","colour":"white"},{"id":"B"}`), exitUsage, `"colour"`},
	})
}
