package meet_test

import (
	"slices"
	"testing"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

const minute = int64(60_000_000)

// promisedDay is a division of eight on two benches, drawn for two rounds of four heats, and
// then a knockout of four, at a whole hour.
func promisedDay(t *testing.T) *timed {
	d := &timed{t: t, s: day.New(), now: 1_801_123_200_000_000}
	d.give(meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall spring meet", Date: "2027-01-28"}, Rules: day.UsualRules()})
	for _, id := range []day.BenchID{"b1", "b2"} {
		d.give(meet.AddBench{Bench: day.Bench{
			ID: id, Number: int(id[1] - '0'), CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	d.give(meet.AddDivision{Division: day.Division{ID: "d", Name: "d", AgeTo: 12, Class: day.CarClass{LapUM: 20_000_000}, Stages: []day.Stage{
		programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "rule": "mean"}),
		programmetest.Stage("knockout", programmetest.Set{"entries": 4}),
	}}})
	for n := 1; n <= 8; n++ {
		id := day.EntryID("e" + string(rune('0'+n)))
		d.give(meet.TakeEntry{ID: id, Division: "d", StartNumber: n, Entrant: day.EntrantID("p" + id), Car: day.CarID("c" + id), Age: 9})
		d.give(meet.CheckIn{Entry: id, There: true})
	}
	d.give(meet.CloseEntries{Division: "d"})
	d.give(meet.DrawRound{Division: "d"})
	return d
}

// timed is a meet whose commands are given at instants.
type timed struct {
	t   *testing.T
	s   *day.State
	now int64
	log []journal.Record
}

func (d *timed) decide(c meet.Command) ([]day.Event, error) {
	events, err := meet.Decide(d.s, c, meet.Meta{Actor: "referee", NowUS: d.now, Seed: 1})
	for _, e := range events {
		d.log = append(d.log, seal(d.t, d.log, e, d.now))
		day.Evolve(d.s, e, d.now)
	}
	return events, err
}

func (d *timed) give(c meet.Command) []day.Event {
	d.t.Helper()
	events, err := d.decide(c)
	if err != nil {
		d.t.Fatalf("%T: %v", c, err)
	}
	return events
}

func (d *timed) refused(c meet.Command, code refusal.Code) {
	d.t.Helper()
	_, err := d.decide(c)
	if no, is := refusal.As(err); !is || no.Code != code {
		d.t.Errorf("%T gives %v, want %s", c, err, code)
	}
}

// promises are what is told of the four heats of the first round, in minutes from the
// beginning.
func (d *timed) promises(from int64) []int64 {
	var out []int64
	for n := 1; n <= 4; n++ {
		out = append(out, (d.s.HeatPromise(d.s.Heats[day.DivisionID("d").Heat(1, 1, n)]).NotBeforeUS-from)/minute)
	}
	return out
}

// TestTellTimes: heats follow one another every four minutes, so they are promised for 0, 0, 5
// and 10 minutes past; what was told is never told earlier, and a call before it is asked back.
func TestTellTimes(t *testing.T) {
	d := promisedDay(t)
	from := d.now
	d.give(meet.TellTimes{})
	if got := d.promises(from); !slices.Equal(got, []int64{0, 0, 5, 10}) {
		t.Errorf("told are %v", got)
	}
	// The second round follows after sixteen minutes, at 15.
	if got := d.s.RoundPromise("d", 1, 2); got != (day.ToldTime{NotBeforeUS: from + 15*minute}) {
		t.Errorf("of the second round is told %+v", got)
	}
	if events := d.give(meet.TellTimes{}); len(events) != 0 {
		t.Errorf("the same is told again: %v", events)
	}
	d.refused(meet.CallHeat{Heat: "d-1.1.3"}, "told-later")
	d.now += 3 * minute
	d.refused(meet.CallHeat{Heat: "d-1.1.3"}, "told-later")
	d.give(meet.CallHeat{Heat: "d-1.1.3", Sure: true})
	d.give(meet.CallOff{Heat: "d-1.1.3", Reason: day.Reason{Code: day.ReasonTime}})
	d.now += 2 * minute
	d.give(meet.CallHeat{Heat: "d-1.1.3"})
	d.give(meet.CallOff{Heat: "d-1.1.3", Reason: day.Reason{Code: day.ReasonTime}})

	// Five minutes late: the third, which was called once, comes at 5, the others at 9, 13 and 17.
	d.give(meet.TellTimes{Reason: day.ReasonPower, FinishUS: from + 61*minute})
	if got := d.promises(from); !slices.Equal(got, []int64{5, 10, 5, 15}) {
		t.Errorf("five minutes late told are %v", got)
	}
	told := d.s.Told
	if told.FinishUS != from+65*minute || told.Reason != day.ReasonPower || told.AtUS != d.now {
		t.Errorf("told is %+v", told)
	}
	if was := told.Heats["d-1.1.4"].WasUS; was != from+10*minute {
		t.Errorf("of the last heat it is said that it was %d", (was-from)/minute)
	}
	// More benches make the day shorter, but nothing is told earlier.
	for _, id := range []day.BenchID{"b3", "b4", "b5", "b6", "b7", "b8"} {
		d.give(meet.AddBench{Bench: day.Bench{
			ID: id, Number: int(id[1] - '0'), CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000,
		}})
	}
	d.give(meet.TellTimes{})
	if got := d.promises(from); !slices.Equal(got, []int64{5, 10, 5, 15}) {
		t.Errorf("with more benches told are %v", got)
	}
	if again := refold(t, d.log); string(stateJSON(t, again)) != string(stateJSON(t, d.s)) {
		t.Error("the log folds to another state")
	}
}

// TestPauseShiftsWhatWasTold: by whole five minutes, and only what was still to come.
func TestPauseShiftsWhatWasTold(t *testing.T) {
	d := promisedDay(t)
	from := d.now
	d.give(meet.TellTimes{})
	d.now += 6 * minute
	d.give(meet.Pause{Reason: day.Reason{Code: day.ReasonPower}})
	d.refused(meet.TellTimes{}, "paused")
	d.now += 14 * minute
	d.give(meet.Resume{})
	if got := d.promises(from); !slices.Equal(got, []int64{0, 0, 5, 20}) {
		t.Errorf("after a pause of 14 minutes told are %v", got)
	}
	if p := d.s.HeatPromise(d.s.Heats["d-1.1.4"]); p.WasUS != from+10*minute {
		t.Errorf("of the last heat it is said that it was %d", (p.WasUS-from)/minute)
	}
	if p := d.s.RoundPromise("d", 1, 2); p.NotBeforeUS != from+25*minute {
		t.Errorf("the next round is told for %d", (p.NotBeforeUS-from)/minute)
	}
}

// TestOrderOfHeats: a heat that is moved stands where it was put, those that are drawn later
// come behind, and a heat that was called stands where it would without.
func TestOrderOfHeats(t *testing.T) {
	d := promisedDay(t)
	next := func(want ...day.HeatID) {
		t.Helper()
		if got := board.CallBoardOf(d.s).Next; !slices.Equal(got, want) {
			t.Errorf("the board has %v, want %v", got, want)
		}
	}
	next("d-1.1.1", "d-1.1.2", "d-1.1.3", "d-1.1.4")
	d.give(meet.OrderHeat{Heat: "d-1.1.3", Move: meet.MoveSooner})
	next("d-1.1.1", "d-1.1.3", "d-1.1.2", "d-1.1.4")
	d.give(meet.OrderHeat{Heat: "d-1.1.1", Move: meet.MoveLast})
	next("d-1.1.3", "d-1.1.2", "d-1.1.4", "d-1.1.1")
	d.give(meet.OrderHeat{Heat: "d-1.1.4", Move: meet.MoveFirst})
	next("d-1.1.4", "d-1.1.3", "d-1.1.2", "d-1.1.1")
	d.give(meet.OrderHeat{Heat: "d-1.1.4", Move: meet.MoveLater})
	next("d-1.1.3", "d-1.1.4", "d-1.1.2", "d-1.1.1")
	if events := d.give(meet.OrderHeat{Heat: "d-1.1.3", Move: meet.MoveSooner}); len(events) != 0 {
		t.Errorf("the first moves sooner: %v", events)
	}
	d.give(meet.OrderHeats{Heats: []day.HeatID{"d-1.1.1", "d-1.1.2", "d-1.1.1"}})
	next("d-1.1.1", "d-1.1.2", "d-1.1.3", "d-1.1.4")
	if events := d.give(meet.OrderHeats{Heats: []day.HeatID{"d-1.1.1"}}); len(events) != 0 {
		t.Errorf("the order that stands is given again: %v", events)
	}
	d.refused(meet.OrderHeats{Heats: []day.HeatID{"d-1.1.4", "d-1.1.9"}}, "no-heat")
	d.give(meet.OrderHeats{Heats: []day.HeatID{"d-1.1.3", "d-1.1.4"}})
	next("d-1.1.3", "d-1.1.4", "d-1.1.1", "d-1.1.2")
	d.give(meet.CallHeat{Heat: "d-1.1.1"})
	d.refused(meet.OrderHeat{Heat: "d-1.1.1", Move: meet.MoveFirst}, "heat-called")
	d.refused(meet.OrderHeats{Heats: []day.HeatID{"d-1.1.4", "d-1.1.1"}}, "heat-called")
	d.give(meet.CallOff{Heat: "d-1.1.1", Reason: day.Reason{Code: day.ReasonTime}})
	next("d-1.1.1", "d-1.1.3", "d-1.1.4", "d-1.1.2") // called once, so it comes first

	d.give(meet.HoldHeat{Heat: "d-1.1.3", UntilUS: d.now + 10*minute})
	next("d-1.1.1", "d-1.1.3", "d-1.1.4", "d-1.1.2")
	d.refused(meet.HoldHeat{Heat: "d-1.1.3", UntilUS: d.now}, "hold-until")
	if d.s.Held["d-1.1.3"] != d.now+10*minute {
		t.Errorf("held are %v", d.s.Held)
	}
	d.give(meet.CallHeat{Heat: "d-1.1.3"})
	if len(d.s.Held) != 0 {
		t.Errorf("held are %v after the call", d.s.Held)
	}
	d.give(meet.CallOff{Heat: "d-1.1.3", Reason: day.Reason{Code: day.ReasonTime}})
	d.give(meet.HoldHeat{Heat: "d-1.1.3", UntilUS: d.now + 10*minute})
	d.give(meet.HoldHeat{Heat: "d-1.1.3"})
	if len(d.s.Held) != 0 {
		t.Errorf("held are %v after it was let go", d.s.Held)
	}
}
