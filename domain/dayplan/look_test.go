package dayplan_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// TestSuppose: three heats of two on four benches are called at 0, 0 and 240 s; on two
// benches at 0, 240 and 480; after a pause of ten minutes everything that is still to be called
// comes so much later; the last may be called first. The day itself stays as it is.
func TestSuppose(t *testing.T) {
	h := newHall(t, 1, 4)
	h.field("a", 6, false, programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "mean"}))
	h.give(meet.DrawRound{Division: "a"})
	before, _ := json.Marshal(h.s)
	for _, c := range []struct {
		name string
		what dayplan.Supposed
		want [3]int64
	}{
		{"as it is", dayplan.Supposed{}, [3]int64{0, 0, 240}},
		{"two benches out", dayplan.Supposed{Out: []day.BenchID{"b1", "b4"}}, [3]int64{0, 240, 480}},
		{"out and back", dayplan.Supposed{Out: []day.BenchID{"b1"}, Back: []day.BenchID{"b1"}}, [3]int64{0, 0, 240}},
		{"a pause", dayplan.Supposed{PauseUS: 600 * second}, [3]int64{600, 600, 840}},
		{"the last first", dayplan.Supposed{Order: []day.HeatID{"a-1.1.3"}}, [3]int64{0, 240, 0}},
	} {
		s, err := dayplan.Suppose(h.s, c.what)
		if err != nil {
			t.Fatal(err)
		}
		plan := dayplan.Order(dayplan.RestOf(s, h.now, 0).Paused(c.what.PauseUS), dayplan.Seen(s))
		var got [3]int64
		for i, x := range dayplan.RestOf(s, h.now, 0).Heats {
			got[x.Number-1] = (plan.Heats[i].CallUS - h.now) / second
		}
		if got != c.want {
			t.Errorf("%s: called at %v, want %v", c.name, got, c.want)
		}
	}
	if after, _ := json.Marshal(h.s); !bytes.Equal(before, after) {
		t.Error("the state was changed")
	}
	for what, code := range map[refusal.Code]dayplan.Supposed{
		"no-bench": {Out: []day.BenchID{"b9"}}, "no-heat": {Order: []day.HeatID{"a-1.1.9"}},
	} {
		if _, err := dayplan.Suppose(h.s, code); err == nil {
			t.Errorf("%s is not refused", what)
		}
	}
}
