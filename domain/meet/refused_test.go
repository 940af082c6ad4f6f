package meet_test

import (
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

// TestRefusals gives commands that are refused. Those of the told days are not
// repeated here.
func TestRefusals(t *testing.T) {
	division := func(change func(v *day.Division)) meet.Command {
		v := goodDivision()
		v.ID = "new"
		change(&v)
		return meet.AddDivision{Division: v}
	}
	knockout := func(change func(st *day.Stage)) meet.Command {
		return division(func(v *day.Division) {
			v.Stages[0] = programmetest.Stage("knockout", nil)
			change(&v.Stages[0])
		})
	}
	bench := func(change func(b *day.Bench)) meet.Command {
		b := goodBench("b2", 2)
		change(&b)
		return meet.AddBench{Bench: b}
	}
	plan := func(change func(p *day.Plan, r *day.Rules)) meet.Command {
		p, r := goodPlan(), day.UsualRules()
		change(&p, &r)
		return meet.PlanMeet{Plan: p, Rules: r}
	}
	none, entered, undrawn := day.New(), given(t), given(t, closed)
	waits, atBench, over := given(t, closed, drawn), given(t, closed, drawn, called), given(t, raced()...)
	better := given(t, raced(
		day.RerunGranted{
			Heat: "junior-1.1.1", Entry: "e1", Counts: day.CountsBetter, Better: "junior-1.1.1-L1-1", Again: []day.LaneNow{{Entry: "e1"}},
		},
	)...)
	absent := given(
		t, closed, drawn, called,
		day.StatusRuled{Heat: "junior-1.1.1", Entry: "e1", Status: day.StatusDidNotStart, Stands: day.StatusDidNotStart}, posted,
	)
	alone := given(t, knockoutDivision(), day.EntryWithdrawn{Entry: "e2"}, day.EntryWithdrawn{Entry: "e3"}, closed)
	published := given(t, raced(day.ResultsPublished{Division: "junior", Number: 1})...)
	noBench := given(t, closed, day.BenchServiceChanged{Bench: "b1", Out: true})

	tests := []struct {
		name  string
		given *day.State
		when  meet.Command
		code  refusal.Code
	}{
		{"a meet whose results are published stays", published, meet.PutAway{}, "away-published"},
		{"a name for the meet", none, plan(func(p *day.Plan, _ *day.Rules) { p.Name = "" }), "plan-name"},
		{"a date of the calendar", none, plan(func(p *day.Plan, _ *day.Rules) { p.Date = "2027-02-29" }), "plan-date"},
		{"an age date of the calendar", none, plan(func(p *day.Plan, _ *day.Rules) { p.AgeDate = "soon" }), "plan-date"},
		{"an hour of the day", none, plan(func(p *day.Plan, _ *day.Rules) { p.Opens = "25:00" }), "plan-hour"},
		{"closing after opening", none, plan(func(p *day.Plan, _ *day.Rules) { p.Opens, p.Closes = "17:00", "09:00" }), "plan-hours"},
		{"rules in range", none, plan(func(_ *day.Plan, r *day.Rules) { r.CallUS = -1 }), "rules-range"},
		{"rules of known words", none, plan(func(_ *day.Plan, r *day.Rules) { r.Tie = "coin" }), "rules-word"},
		{"incidents of known words", none, plan(func(_ *day.Plan, r *day.Rules) {
			r.Incidents = []day.IncidentRule{{Incident: "rain", Consequence: day.ConsequenceKeep}}
		}), "rules-word"},
		{"planned once", entered, meet.PlanMeet{Plan: goodPlan(), Rules: day.UsualRules()}, "planned"},
		{"no rules without a plan", none, meet.ChangeRules{Rules: day.UsualRules()}, "not-planned"},
		{"no division without a plan", none, meet.AddDivision{Division: goodDivision()}, "not-planned"},
		{"no bench without a plan", none, meet.AddBench{Bench: goodBench("b1", 1)}, "not-planned"},
		{"no run without a plan", none, meet.RecordRun{ID: "r"}, "not-planned"},
		{"no pause without a plan", none, meet.Pause{Reason: why}, "not-planned"},
		{"no resuming without a plan", none, meet.Resume{}, "not-planned"},
		{"changed rules of known words", entered, meet.ChangeRules{Rules: day.Rules{}}, "rules-word"},
		{"rules stand from the first call", atBench, meet.ChangeRules{Rules: day.UsualRules()}, "rules-fixed"},

		{"an id without blanks", entered, division(func(v *day.Division) { v.ID = "my division" }), "bad-id"},
		{"a name for the division", entered, division(func(v *day.Division) { v.Name = "" }), "division-name"},
		{"ages upwards", entered, division(func(v *day.Division) { v.AgeFrom = 12 }), "division-ages"},
		{"a lap of a length", entered, division(func(v *day.Division) { v.Class.LapUM = 0 }), "division-lengths"},
		{"a car of a mass", entered, division(func(v *day.Division) { v.Class.MassMaxG = -1 }), "division-class"},
		{"a stage at least", entered, division(func(v *day.Division) { v.Stages = nil }), "division-stages"},
		{"a known kind", entered, division(func(v *day.Division) { v.Stages[0].Form = nil }), "stage-kind"},
		{"a race of a second", entered, division(func(v *day.Division) { v.Stages[0].RaceUS = 1 }), "stage-race"},
		{"a lane at least", entered, division(func(v *day.Division) { v.Stages[0].Lanes = 0 }), "stage-lanes"},
		{"nobody goes on to the first stage", entered, division(func(v *day.Division) { v.Stages[0].Entries = 4 }), "stage-entries"},
		{
			"a round at least", entered,
			division(func(v *day.Division) { v.Stages[0] = programmetest.With(v.Stages[0], programmetest.Set{"rounds": 0}) }), "timed-rounds",
		},
		{"a known timed rule", entered, division(func(v *day.Division) {
			v.Stages[0] = programmetest.With(v.Stages[0], programmetest.Set{"rule": "luck"})
		}), "timed-rule"},
		{"two lanes of a knockout", entered, knockout(func(st *day.Stage) { st.Lanes = 3 }), "knockout-lanes"},
		{"a drawn division stands", waits, meet.AddDivision{Division: goodDivision()}, "division-drawn"},

		{"a bench with an id", entered, bench(func(b *day.Bench) { b.ID = "" }), "bad-id"},
		{"a bench of a size", entered, bench(func(b *day.Bench) { b.CircumferenceUM = 1 }), "bench-settings"},
		{"marks that the tracker follows", entered, bench(func(b *day.Bench) { b.Marks = 25 }), "bench-settings"},
		{"a plate number of its own", entered, bench(func(b *day.Bench) { b.Number = 1 }), "bench-number"},
		{"no new settings in a heat", atBench, meet.AddBench{Bench: goodBench("b1", 1)}, "bench-busy"},
		{"a bench that is there", entered, meet.ChangeBenchService{Bench: "b9", Out: true, Reason: why}, "no-bench"},
		{"a reason to take a bench out", entered, meet.ChangeBenchService{Bench: "b1", Out: true}, "reason-code"},

		{"a bench in service for a draw", noBench, meet.DrawRound{Division: "junior"}, "no-benches"},
		{"an opponent for a knockout", alone, meet.DrawRound{Division: "junior"}, "draw-refused"},
		{"a draw to replace", undrawn, meet.DrawAgain{Division: "junior", Reason: why}, "nothing-drawn"},
		{"a round to close", undrawn, meet.CloseRound{Division: "junior"}, "nothing-drawn"},
		{"a division to close", entered, meet.CloseRound{Division: "x"}, "no-division"},
		{"a division to publish", entered, meet.PublishResults{Division: "x"}, "no-division"},
		{"a division to draw again", entered, meet.DrawAgain{Division: "x"}, "no-division"},

		{"a heat to call", entered, meet.CallHeat{Heat: "junior-9.9.9"}, "no-heat"},
		{"a heat to call off", entered, meet.CallOff{Heat: "x", Reason: why}, "no-heat"},
		{"a heat to start", entered, meet.StartHeat{Heat: "x"}, "no-heat"},
		{"a heat to get ready for", entered, meet.ConfirmReady{Heat: "x"}, "no-heat"},
		{"a heat to void", entered, meet.VoidHeat{Heat: "x", Reason: why}, "no-heat"},
		{"a posted heat is not called", over, meet.CallHeat{Heat: "junior-1.1.1"}, "heat-over"},
		{"a heat that is not called does not start", waits, meet.StartHeat{Heat: "junior-1.1.1"}, "not-called"},
		{"taking back a ready that nobody gave", waits, meet.TakeReadyBack{Heat: "junior-1.1.1", Bench: "b1"}, "bench-not-called"},
		{"taking back the ready of a race", over, meet.TakeReadyBack{Heat: "junior-1.1.1", Bench: "b1"}, "ready-raced"},
		{"taking back in a heat that is not there", waits, meet.TakeReadyBack{Heat: "none", Bench: "b1"}, "no-heat"},
		{"an official for a bench that is not there", waits, meet.WantOfficial{Bench: "b9", Wanted: true}, "no-bench"},
		{"a bench that the heat did not call", waits, meet.ConfirmReady{Heat: "junior-1.1.1", Bench: "b1", StartNumber: 1}, "bench-not-called"},
		{
			"nothing is better than no run", absent,
			meet.GrantRerun{Heat: "junior-1.1.1", Entry: "e1", Counts: day.CountsBetter, Reason: why},
			"rerun-nothing-better",
		},
		{"a penalty in range", waits, meet.Penalise{Heat: "junior-1.1.1", Entry: "e1", UM: -1, Reason: why}, "penalty-range"},
		{"a run that may still be the better is not set aside", better, meet.SetRunAside{Run: "junior-1.1.1-L1-1", Reason: why}, "run-counts"},
		{
			"nor does it count elsewhere", better,
			meet.AcceptRun{Run: "junior-1.1.1-L1-1", Heat: "junior-1.1.2", Entry: "e2", Reason: why},
			"run-counts",
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			events, err := meet.Decide(test.given, test.when, meet.Meta{Actor: "o", NowUS: dayStart, Seed: 7})
			no, is := refusal.As(err)
			if !is || no.Code != test.code || len(events) > 0 {
				t.Errorf("got %v, %v; want the refusal %s", events, err, test.code)
			}
		})
	}
}
