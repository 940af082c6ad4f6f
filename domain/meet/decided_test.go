package meet_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/bracket"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// TestEvents gives commands whose events are checked in full.
func TestEvents(t *testing.T) {
	ruled := day.Ruled{By: "o", Reason: why}
	correction := func(n int) day.Ruled { return day.Ruled{By: "o", Reason: why, Correction: n} }
	until := day.ResultsPosted{Heat: "junior-1.1.1", ProtestUntilUS: dayStart + 300_000_000}
	anew := []day.LaneNow{{Entry: "e1"}}
	official := day.RoundClosed{Division: "junior", Stage: 1, Round: 1}
	again := day.RerunGranted{Ruled: day.Ruled{Correction: 1}, Heat: "junior-1.1.1", Entry: "e1", Counts: day.CountsRerun, Again: anew}
	better := day.RerunGranted{Heat: "junior-1.1.1", Entry: "e1", Counts: day.CountsBetter, Better: "junior-1.1.1-L1-1", Again: anew}
	waiting, byBench := recorded, recorded
	waiting.ID, waiting.Waiting, waiting.Result, byBench.By = "other", day.WaitsHeatClosed, "", "o"
	outOfService := goodBench("b1", 5)
	outOfService.OutOfService, outOfService.OutReason = true, "bench-fault"
	byHand := day.RunRecorded{
		ID: "junior-1.1.1-L1-1-hand-hand", Bench: "b1", Heat: "junior-1.1.1", Entry: "e1", Source: day.SourceHand, By: "o", ClaimedUS: 5,
	}
	byHand.Figures.Method, byHand.Figures.Laps = meet.MethodHand, 2
	byHand.Result = byHand.ID
	byHand.Figures.DistanceUM, byHand.Figures.UDistanceUM = 50_000_000, 5_773_503
	penalty := meet.Penalise{Heat: "junior-1.1.1", Entry: "e1", UM: 1, Reason: why}

	tests := []struct {
		name  string
		given []day.Event
		when  meet.Command
		then  []day.Event
	}{
		{
			"a bench that is out stays out with new settings",
			[]day.Event{day.BenchServiceChanged{Bench: "b1", Out: true, Reason: "bench-fault"}},
			meet.AddBench{Bench: goodBench("b1", 5)},
			[]day.Event{day.BenchAdded{Bench: outOfService}},
		},
		{
			"a division is replaced before its draw", nil,
			meet.AddDivision{Division: goodDivision()},
			[]day.Event{day.DivisionAdded{Division: goodDivision()}},
		},
		{
			"an unknown age fits every band", nil,
			meet.TakeEntry{ID: "e4", Division: "junior", StartNumber: 4, Entrant: "p4", Car: "c4", Age: -1},
			[]day.Event{day.EntryTaken{ID: "e4", Division: "junior", StartNumber: 4, Entrant: "p4", Car: "c4"}},
		},
		{
			"a change that changes nothing", nil,
			meet.ChangeEntry{ID: "e1", Division: "junior", StartNumber: 1, Car: "ce1", Age: 9},
			nil,
		},
		{
			"rules change before the first call",
			[]day.Event{closed, drawn},
			meet.ChangeRules{Rules: day.UsualRules()},
			[]day.Event{day.RulesChanged{Rules: day.UsualRules()}},
		},
		{
			"a claimed time that no clock says is left out", raced(),
			meet.LodgeProtest{ID: "p", Heat: "junior-1.1.1", Reason: why, ClaimedUS: 1 << 60},
			[]day.Event{day.ProtestLodged{ID: "p", Heat: "junior-1.1.1", By: "o", Reason: why}},
		},
		{
			"the last lane's run posts the heat",
			[]day.Event{closed, drawn, called, ready, started},
			meet.RecordRun{ID: "junior-1.1.1-L1-1", Bench: "b1", Figures: figures(400_000_000)},
			[]day.Event{byBench, until},
		},
		{
			"a hand count takes a name that is free",
			[]day.Event{closed, drawn, called, ready, started, day.RunRecorded{ID: "junior-1.1.1-L1-1-hand", Waiting: day.WaitsUnknown}},
			meet.RecordHandCount{Heat: "junior-1.1.1", Entry: "e1", DistanceUM: 50_000_000, UDistanceUM: 5_773_503, ClaimedUS: 5},
			[]day.Event{byHand, until},
		},
		{
			"a changed provisional result is posted again", raced(), penalty,
			[]day.Event{day.PenaltyGiven{Ruled: ruled, Heat: "junior-1.1.1", Entry: "e1", UM: 1}, until},
		},
		{
			"a changed official result is a correction", raced(official), penalty,
			[]day.Event{day.PenaltyGiven{Ruled: correction(1), Heat: "junior-1.1.1", Entry: "e1", UM: 1}},
		},
		{
			"so is what is ruled while a heat of a closed round races again, official at once", raced(official, again, waiting),
			meet.AcceptRun{Run: "other", Heat: "junior-1.1.1", Entry: "e1", Reason: why},
			[]day.Event{
				day.RunAccepted{Ruled: correction(2), Run: "other", Heat: "junior-1.1.1", Entry: "e1"},
				day.ResultsPosted{Heat: "junior-1.1.1"},
			},
		},
		{
			"a void of an official heat is a correction", raced(official),
			meet.VoidHeat{Heat: "junior-1.1.1", Reason: why},
			[]day.Event{day.HeatVoided{
				Ruled: correction(1), Heat: "junior-1.1.1", VoidRuns: []day.RunID{"junior-1.1.1-L1-1"}, Again: anew,
			}},
		},
		{
			"the first run counts after all, before the re-run", raced(better),
			meet.AcceptRun{Run: "junior-1.1.1-L1-1", Heat: "junior-1.1.1", Entry: "e1", Reason: why},
			[]day.Event{day.RunAccepted{Ruled: ruled, Run: "junior-1.1.1-L1-1", Heat: "junior-1.1.1", Entry: "e1"}, until},
		},
		{
			"a withdrawal is no correction of an official result", raced(official),
			meet.Withdraw{Entry: "e1", Reason: why},
			[]day.Event{day.EntryWithdrawn{Ruled: ruled, Entry: "e1"}},
		},
		{
			"a disqualification is", raced(official),
			meet.Disqualify{Entry: "e1", Reason: why},
			[]day.Event{day.EntryDisqualified{Ruled: correction(1), Entry: "e1"}},
		},
		{
			"a resumed meet says by how much deadlines shift",
			[]day.Event{day.MeetPaused{Reason: "lunch"}},
			meet.Resume{},
			[]day.Event{day.MeetResumed{By: "o"}},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events, err := meet.Decide(given(t, test.given...), test.when, meet.Meta{Actor: "o", NowUS: dayStart, Seed: 7})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.then, events); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// TestRerunClearsAPenalty: it belonged to the run that is replaced; where the
// better of both counts, it stays.
func TestRerunClearsAPenalty(t *testing.T) {
	for counts, want := range map[day.RerunCounts]int64{day.CountsRerun: 0, day.CountsBetter: 7} {
		s := given(t, raced(day.PenaltyGiven{Heat: "junior-1.1.1", Entry: "e1", UM: 7})...)
		c := meet.GrantRerun{Heat: "junior-1.1.1", Entry: "e1", Counts: counts, Reason: why}
		events, err := meet.Decide(s, c, meet.Meta{Actor: "o", NowUS: dayStart})
		if err != nil {
			t.Fatal(err)
		}
		day.Evolve(s, events[0], dayStart)
		if got := s.Heats["junior-1.1.1"].Lanes[0].PenaltyUM; got != want {
			t.Errorf("where %s counts the penalty is %d, want %d", counts, got, want)
		}
		if drops := events[0].(day.RerunGranted).DropsPenaltyUM; drops != 7-want {
			t.Errorf("where %s counts the event drops %d, want %d", counts, drops, 7-want)
		}
	}
}

// TestDrawnAgainFromTheTree: a later round of a knockout is drawn anew from the
// results as they stand now.
func TestDrawnAgainFromTheTree(t *testing.T) {
	s := given(t, knockoutDivision(), closed, day.DivisionSeeded{
		Division: "junior", Stage: 1, Seeding: programme.SeedHand, Seeds: []day.EntryID{"e1", "e2", "e3"},
	})
	give := func(c meet.Command) []day.Event {
		t.Helper()
		events, err := meet.Decide(s, c, meet.Meta{Actor: "o", NowUS: dayStart, Seed: 7})
		if err != nil {
			t.Fatalf("%T: %v", c, err)
		}
		for _, e := range events {
			day.Evolve(s, e, dayStart)
		}
		return events
	}
	give(meet.DrawRound{Division: "junior"}) // e1 has the bye, e2 meets e3
	give(meet.RuleStatus{Heat: "junior-1.1.1", Entry: "e3", Status: day.StatusDidNotStart, Reason: why})
	give(meet.CloseRound{Division: "junior", Early: &why})
	give(meet.DrawRound{Division: "junior"})
	give(meet.RuleStatus{Heat: "junior-1.1.1", Entry: "e2", Status: day.StatusDisqualified, Reason: why})
	if !programme.Outdated(s, "junior") {
		t.Error("the draw of the final stands on a changed result and is not flagged")
	}
	anew := give(meet.DrawAgain{Division: "junior", Reason: why})[0].(day.RoundDrawnAgain).Drawn
	want := []day.DrawnHeat{{
		Entries: []day.EntryID{"e1"}, From: []bracket.Slot{bracket.EntryAt(0), bracket.WinnerOf("1.1")}, Walkover: true,
		ProtestUntilUS: dayStart + 300_000_000,
	}}
	if diff := cmp.Diff(want, anew.Heats); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if programme.Outdated(s, "junior") {
		t.Error("the new draw is flagged")
	}
}

func TestAgeAt(t *testing.T) {
	tests := []struct {
		name, birth, date string
		want              int
		ok                bool
	}{
		{"the day before", "2018-03-07", "2027-03-06", 8, true},
		{"on the day", "2018-03-06", "2027-03-06", 9, true},
		{"born on 29 February, a year without one", "2016-02-29", "2027-02-28", 10, true},
		{"born on 29 February, on 1 March", "2016-02-29", "2027-03-01", 11, true},
		{"not born yet", "2027-03-07", "2027-03-06", 0, false},
		{"no date", "spring", "2027-03-06", 0, false},
		{"no date to take it at", "2018-03-06", "", 0, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got, ok := (day.Plan{Date: test.date}.AgeOf(test.birth)); got != test.want || ok != test.ok {
				t.Errorf("got %d, %v, want %d, %v", got, ok, test.want, test.ok)
			}
		})
	}
	if got := (day.Plan{Date: "2027-03-06", AgeDate: "2027-01-01"}).AgeOn(); got != "2027-01-01" {
		t.Errorf("ages are taken on %s", got)
	}
}

// TestDecode refuses what a later program wrote: a state without it is wrong.
func TestDecode(t *testing.T) {
	tests := []struct {
		name, kind string
		version    int
		data       string
	}{
		{"an unknown event", "HeatPainted", 1, "{}"},
		{"a later version", "HeatStarted", 3, "{}"},
		{"a later version of an event that never changed", "HeatCalled", 2, "{}"},
		{"no version", "HeatCalled", 0, "{}"},
		{"an unknown field", "HeatStarted", 1, `{"colour":"red"}`},
		{"a wrong type", "HeatStarted", 1, `{"heat":1}`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if e, err := day.Decode(test.kind, test.version, []byte(test.data)); err == nil {
				t.Errorf("got %+v", e)
			}
		})
	}
}

// TestConditions: what a run is measured under, where a lane armed it and where
// none did.
func TestConditions(t *testing.T) {
	s := given(t, closed, drawn, called)
	armed, known := evidence.InMeet(s, "junior-1.1.1-L1-1", "b1")
	if !known || armed.Bench.ID != "b1" || armed.LapUM != 20_000_000 || armed.RaceUS != 60_000_000 {
		t.Errorf("armed: %+v %v", armed, known)
	}
	for _, stray := range []day.RunID{
		"stray", "junior-1.1.1-L1-2", "junior-1.1.1-L9-1", "junior-1.1.1-L0-1", "junior-1.1.1-L1-1-hand", "junior-1.1.1-L01-1",
		"junior-9.1.1-L1-1", "-L1-1", "-L",
	} {
		if c, known := evidence.InMeet(s, stray, "b1"); !known || c.LapUM != 0 || c.RaceUS != 0 {
			t.Errorf("%s: %+v %v", stray, c, known)
		}
	}
	if _, known = evidence.InMeet(s, "stray", "b9"); known {
		t.Error("a bench that is not there measures")
	}
}
