package meet_test

import (
	"testing"

	"benchmeet/domain/meet"
)

// given folds events of a planned meet with one division "junior" (8 to 11,
// timed rounds of 4 lanes), bench b1 and entries e1 to e3, and then the given
// ones.
func given(t *testing.T, events ...meet.Event) *meet.State {
	t.Helper()
	s := meet.New()
	for _, e := range append(before(), events...) {
		meet.Evolve(s, e, dayStart)
	}
	return s
}

func before() []meet.Event {
	events := []meet.Event{
		meet.MeetPlanned{Plan: goodPlan(), Rules: meet.UsualRules()},
		meet.DivisionAdded{Division: goodDivision()},
		meet.BenchAdded{Bench: goodBench("b1", 1)},
	}
	for i, id := range []meet.EntryID{"e1", "e2", "e3"} {
		events = append(events,
			meet.EntryTaken{ID: id, Division: "junior", StartNumber: i + 1, Entrant: meet.EntrantID("p" + string(id)), Car: meet.CarID("c" + string(id))},
			meet.EntryCheckedIn{Entry: id, There: true})
	}
	return events
}

func goodPlan() meet.Plan { return meet.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"} }

func goodDivision() meet.Division {
	return meet.Division{
		ID: "junior", Name: "Junior", AgeFrom: 8, AgeTo: 11, Class: meet.CarClass{Name: "club class", LapUM: 20_000_000},
		Stages: []meet.Stage{{Kind: meet.TimedRounds, Rounds: 1, Lanes: 4, RaceUS: 60_000_000, Rule: meet.RuleBest}},
	}
}

// knockoutDivision replaces "junior" by a knockout.
func knockoutDivision() meet.Event {
	v := goodDivision()
	v.Stages = []meet.Stage{{Kind: meet.Knockout, Lanes: 2, RaceUS: 60_000_000}}
	return meet.DivisionAdded{Division: v}
}

func goodBench(id meet.BenchID, number int) meet.Bench {
	return meet.Bench{ID: id, Number: number, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000}
}

// The events of the first heat's life, in order.
var (
	closed = meet.EntriesClosed{Division: "junior"}
	drawn  = meet.RoundDrawn{
		Division: "junior", Stage: 1, Round: 1, Seeds: []meet.EntryID{"e1", "e2", "e3"}, LotSeed: 7, Method: meet.MethodTimedRounds,
		Heats: []meet.DrawnHeat{{Entries: []meet.EntryID{"e1"}}, {Entries: []meet.EntryID{"e2", "e3"}}},
	}
	called = meet.HeatCalled{
		Heat: "junior-1.1.1", DeadlineUS: dayStart + 180_000_000,
		Lanes: []meet.CalledLane{{Entry: "e1", Bench: "b1", Run: "junior-1.1.1-L1-1"}},
	}
	ready    = meet.BenchReady{Heat: "junior-1.1.1", Bench: "b1", Entry: "e1"}
	started  = meet.HeatStarted{Heat: "junior-1.1.1"}
	recorded = meet.RunRecorded{
		ID: "junior-1.1.1-L1-1", Bench: "b1", Heat: "junior-1.1.1", Entry: "e1", Source: meet.SourceBench, Figures: figures(400_000_000),
	}
	posted = meet.ResultsPosted{Heat: "junior-1.1.1", ProtestUntilUS: dayStart + 300_000_000}
	why    = meet.Reason{Code: meet.ReasonPower}
)

// raced are all of them, with more behind.
func raced(more ...meet.Event) []meet.Event {
	return append([]meet.Event{closed, drawn, called, ready, started, recorded, posted}, more...)
}
