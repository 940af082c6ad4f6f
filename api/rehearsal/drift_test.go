package rehearsal

import (
	"testing"
	"time"

	"benchmeet/api/gen"
	"benchmeet/domain/day"
)

// TestDrift: two rounds planned for 10:00 and 10:30 begin at 9:58 and 10:42, and the last result is
// there at 11:05 and not at 11:00.
func TestDrift(t *testing.T) {
	at := func(hour, minute int) time.Time { return time.Date(2027, 4, 17, hour, minute, 0, 0, time.UTC) }
	us := func(hour, minute int) int64 { return at(hour, minute).UnixMicro() }
	first, second, end := at(10, 0), at(10, 30), at(11, 0)
	plan := gen.DayPlan{Finish: &end, Rounds: []gen.PlanRound{
		{Division: "a", Stage: 1, Round: 1, Likely: &first},
		{Division: "a", Stage: 1, Round: 2, Likely: &second},
		{Division: "a", Stage: 2, Round: 1, Likely: &end}, // was cut
	}}
	s := day.New()
	for id, h := range map[day.HeatID]day.Heat{
		"a-1.1.1": {Division: "a", Stage: 1, Round: 1, CalledUS: us(10, 3), PostedUS: us(10, 6)},
		"a-1.1.2": {Division: "a", Stage: 1, Round: 1, CalledUS: us(9, 58), PostedUS: us(10, 2)},
		"a-1.2.1": {Division: "a", Stage: 1, Round: 2, CalledUS: us(10, 42), PostedUS: us(11, 5)},
		"a-2.1.1": {Division: "a", Stage: 2, Round: 1},
	} {
		s.Heats[id] = h
	}
	d := driftFrom(&plan, s)
	if len(d.Rounds) != 2 || d.Rounds[0].DriftS != -120 || d.Rounds[1].DriftS != 720 || d.LargestS != 720 || d.EndS != 300 {
		t.Errorf("got %+v", d)
	}
	if driftFrom(nil, s) != nil {
		t.Error("a drift without a timetable")
	}
}
