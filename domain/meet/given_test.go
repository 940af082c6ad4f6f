package meet_test

import (
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/programme/programmetest"
)

// given folds events of a planned meet with one division "junior" (8 to 11,
// timed rounds of 4 lanes), bench b1 and entries e1 to e3, and then the given
// ones.
func given(t *testing.T, events ...day.Event) *day.State {
	t.Helper()
	s := day.New()
	for _, e := range append(before(), events...) {
		day.Evolve(s, e, dayStart)
	}
	return s
}

func before() []day.Event {
	events := []day.Event{
		day.MeetPlanned{Plan: goodPlan(), Rules: day.UsualRules()},
		day.DivisionAdded{Division: goodDivision()},
		day.BenchAdded{Bench: goodBench("b1", 1)},
	}
	for i, id := range []day.EntryID{"e1", "e2", "e3"} {
		events = append(events,
			day.EntryTaken{
				ID: id, Division: "junior", StartNumber: i + 1, Entrant: day.EntrantID("p" + string(id)), Car: day.CarID("c" + string(id)),
			},
			day.EntryCheckedIn{Entry: id, There: true})
	}
	return events
}

func goodPlan() day.Plan { return day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"} }

func goodDivision() day.Division {
	return day.Division{
		ID: "junior", Name: "Junior", AgeFrom: 8, AgeTo: 11, Class: day.CarClass{Name: "club class", LapUM: 20_000_000},
		Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "lanes": 4, "rule": "best"})},
	}
}

// knockoutDivision replaces "junior" by a knockout.
func knockoutDivision() day.Event {
	v := goodDivision()
	v.Stages = []day.Stage{programmetest.Stage("knockout", nil)}
	return day.DivisionAdded{Division: v}
}

func goodBench(id day.BenchID, number int) day.Bench {
	return day.Bench{ID: id, Number: number, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000}
}

// The events of the first heat's life, in order.
var (
	closed = day.EntriesClosed{Division: "junior"}
	drawn  = day.RoundDrawn{
		Division: "junior", Stage: 1, Round: 1, Seeds: []day.EntryID{"e1", "e2", "e3"}, LotSeed: 7, Method: "timed-rounds-lot/1",
		Heats: []day.DrawnHeat{{Entries: []day.EntryID{"e1"}}, {Entries: []day.EntryID{"e2", "e3"}}},
	}
	called = day.HeatCalled{
		Heat: "junior-1.1.1", DeadlineUS: dayStart + 180_000_000,
		Lanes: []day.CalledLane{{Entry: "e1", Bench: "b1", Run: "junior-1.1.1-L1-1"}},
	}
	ready    = day.BenchReady{Heat: "junior-1.1.1", Bench: "b1", Entry: "e1"}
	started  = day.HeatStarted{Heat: "junior-1.1.1"}
	recorded = day.RunRecorded{
		ID: "junior-1.1.1-L1-1", Bench: "b1", Heat: "junior-1.1.1", Entry: "e1", Source: day.SourceBench, Figures: figures(400_000_000),
		Result: "junior-1.1.1-L1-1",
	}
	posted = day.ResultsPosted{Heat: "junior-1.1.1", ProtestUntilUS: dayStart + 300_000_000}
	why    = day.Reason{Code: day.ReasonPower}
)

// raced are all of them, with more behind.
func raced(more ...day.Event) []day.Event {
	return append([]day.Event{closed, drawn, called, ready, started, recorded, posted}, more...)
}
