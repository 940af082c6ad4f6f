package rehearsal

import (
	"slices"
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
	ten := at(10, 10)
	plan := gen.DayPlan{Finish: &end, Heats: []gen.PlanHeat{
		{Heat: "a-1.1.1", Likely: &first}, {Heat: "a-1.1.2", Likely: &ten},
	}, ToCome: &[]gen.PlanToCome{
		{Division: "a", Stage: 1, Round: 2, Number: 1, Likely: second}, {Division: "a", Stage: 2, Round: 1, Number: 1, Likely: end},
	}, Rounds: []gen.PlanRound{
		{Division: "a", Stage: 1, Round: 1, Likely: &first},
		{Division: "a", Stage: 1, Round: 2, Likely: &second},
		{Division: "a", Stage: 2, Round: 1, Likely: &end}, // was cut
	}}
	ev := Evidence{State: day.New(), called: map[day.HeatID]int64{}, promises: promises{told: map[day.HeatID]bool{}}}
	for id, h := range map[day.HeatID]day.Heat{
		"a-1.1.1": {Division: "a", Stage: 1, Round: 1, CalledUS: us(10, 3), PostedUS: us(10, 6)},
		"a-1.1.2": {Division: "a", Stage: 1, Round: 1, CalledUS: us(9, 58), PostedUS: us(10, 2)},
		"a-1.2.1": {Division: "a", Stage: 1, Round: 2, CalledUS: us(10, 42), PostedUS: us(11, 5)},
		"a-2.1.1": {Division: "a", Stage: 2, Round: 1},
	} {
		ev.State.Heats[id] = h
		if h.CalledUS > 0 {
			ev.called[id] = h.CalledUS
		}
	}
	d := driftFrom(&plan, ev)
	if len(d.Rounds) != 2 || d.Rounds[0].DriftS != -120 || d.Rounds[1].DriftS != 720 || d.LargestS != 720 || d.EndS != 300 {
		t.Errorf("got %+v", d)
	}
	// Of the heats 1 was called at 10:03 for 10:00, 2 at 9:58 for 10:10, and the one that was not drawn at 10:42 for 10:30.
	if d.Heats != 3 || d.HeatMedianS != 180 || d.HeatLargestS != -720 {
		t.Errorf("the heats are %+v", d)
	}
	if driftFrom(nil, ev) != nil {
		t.Error("a drift without a timetable")
	}
}

// TestPromises: a heat that is called a second before its time breaks the promise, one at its time
// keeps it, and a heat of which nothing was told has none. A round's promise is that of its heats.
func TestPromises(t *testing.T) {
	const told = 1_000_000_000
	s := day.New()
	for id, round := range map[day.HeatID]int{"a-1.1.1": 1, "a-1.1.2": 1, "a-1.2.1": 2, "a-1.3.1": 3} {
		s.Heats[id] = day.Heat{ID: id, Division: "a", Stage: 1, Round: round}
	}
	s.Told = &day.Told{
		Heats:  map[day.HeatID]day.ToldTime{"a-1.1.1": {NotBeforeUS: told}, "a-1.1.2": {NotBeforeUS: told}},
		Rounds: map[string]day.ToldTime{day.DivisionID("a").Round(1, 2): {NotBeforeUS: told}},
	}
	p := promises{told: map[day.HeatID]bool{}}
	p.see(s, day.HeatCalled{Heat: "a-1.1.1"}, told)
	p.see(s, day.HeatCalled{Heat: "a-1.3.1"}, told-1_000_000)
	if len(p.told) != 1 || p.kept() != nil {
		t.Errorf("kept promises give %+v", p)
	}
	p.see(s, day.HeatCalled{Heat: "a-1.1.2"}, told-1_000_000)
	p.see(s, day.HeatCalled{Heat: "a-1.2.1"}, told-1_000_000)
	if len(p.told) != 3 || !slices.Equal(p.broken, []string{"a-1.1.2", "a-1.2.1"}) || p.kept() == nil {
		t.Errorf("broken promises give %+v", p)
	}
}
