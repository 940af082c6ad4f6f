package measure

import (
	"math"
	"testing"
)

// TestEdges: a roller that turns evenly, 10 turns a second, with the start and the
// end of the race at known places between its stamps.
func TestEdges(t *testing.T) {
	even := func(from, to int64) (stamps []int64) {
		for at := from; at <= to; at += 100_000 {
			stamps = append(stamps, at)
		}
		return stamps
	}
	start, duration := int64(1_030_000), 5.0 // ends at 6,030,000
	tests := []struct {
		name       string
		stamps     []int64
		race       Race
		start, end Edge
	}{
		{
			"between stamps at both ends", even(0, 8_000_000),
			Race{StartUS: &start, DurationS: &duration},
			Edge{0.7, EdgeBetween},
			Edge{0.3, EdgeBetween},
		},
		{
			"the last stamp is before the end", even(0, 6_000_000),
			Race{StartUS: &start, DurationS: &duration},
			Edge{0.7, EdgeBetween},
			Edge{0.3, EdgePredicted},
		},
		{"from the first to the last stamp", even(0, 6_000_000), Race{}, Edge{0, EdgeNone}, Edge{0, EdgeNone}},
		{
			"it stopped long before the end", even(0, 3_000_000),
			Race{StartUS: &start, DurationS: &duration},
			Edge{0.7, EdgeBetween},
			Edge{0.5, EdgeUnknown},
		},
		{"nothing came", nil, Race{StartUS: &start, DurationS: &duration}, Edge{}, Edge{}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m, err := Measure(Setup{Bench: Bench{CircumferenceMM: 100}, Race: test.race}, test.stamps)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range []struct {
				name      string
				got, want Edge
			}{{"start", m.Start, test.start}, {"end", m.End, test.end}} {
				if e.got.How != e.want.How || math.Abs(e.got.Turns-e.want.Turns) > 0.01 {
					t.Errorf("%s = %+v, want %+v", e.name, e.got, e.want)
				}
			}
		})
	}
}
