package intake

import (
	"context"
	"fmt"
	"math"
	"testing"

	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/trace"
)

// told are the speeds that came so far.
func (v *server) told() []Speed {
	var all []Speed
	for {
		select {
		case s := <-v.speeds:
			all = append(all, s)
		default:
			return all
		}
	}
}

// TestTelemetry: speed comes chunk by chunk, in the order of the stamps whatever
// the order of arrival, and a chunk without stamps or a resent one tells nothing.
func TestTelemetry(t *testing.T) {
	for _, tt := range []struct {
		name  string
		cuts  []int
		order []int
		want  []float64 // turns after each telling
	}{
		{"in order", []int{101, 201}, []int{0, 1, 2}, []float64{100, 200, 300}},
		{"one late", []int{101, 201}, []int{0, 2, 1}, []float64{100, 300}},
		{"the first last", []int{101, 201}, []int{1, 2, 0}, []float64{300}},
		{"twice", []int{101, 201}, []int{0, 0, 1, 1, 2}, []float64{100, 200, 300}},
		{"an empty one first", []int{0, 101}, []int{0, 1, 2}, []float64{100, 300}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			v := newServer(t, openSQLite(t))
			v.give(t, club.RegisterBench{Bench: benchOne})
			chunks := cut("r1", steadyTrain(301), trace.Totals{}, tt.cuts...)
			for _, i := range tt.order {
				v.take(t, chunks[i])
			}
			all := v.told()
			if len(all) != len(tt.want) {
				t.Fatalf("%d speeds came: %+v", len(all), all)
			}
			for i, s := range all {
				turns := tt.want[i]
				if math.Abs(s.DistanceM-turns/10) > 1e-9 || math.Abs(s.ElapsedS-turns/100) > 1e-9 || math.Abs(s.RPM-6000) > 1 ||
					s.Bench != "b1" || s.Meet != "" {
					t.Errorf("after %v turns: %+v", turns, s)
				}
			}
		})
	}
}

// TestEviction: runs that are never ended take bounded memory; the one that was
// silent longest is dropped, and is recorded all the same.
func TestEviction(t *testing.T) {
	v := newServer(t, openSQLite(t))
	first := cut("first", steadyTrain(301), trace.Totals{}, 101)
	v.take(t, first[0])
	for n := range mostSpeeds {
		at := place{harbour, store.RunKey{Bench: "b1", Boot: boot, Run: fmt.Sprintf("run-%d", n)}}
		v.Intake.speeds.get(at)
		if n == mostSpeeds/2 { // it speaks again and is not the silent one any more
			v.Intake.speeds.get(place{harbour, store.RunKey{Bench: "b1", Boot: boot, Run: "run-0"}})
		}
	}
	v.told()
	runs := v.Intake.speeds.runs
	_, firstThere := runs[place{harbour, store.RunKey{Bench: "b1", Boot: boot, Run: "first"}}]
	_, spokeAgain := runs[place{harbour, store.RunKey{Bench: "b1", Boot: boot, Run: "run-0"}}]
	if len(runs) != mostSpeeds || firstThere || !spokeAgain {
		t.Errorf("%d runs are followed, the silent one: %v, the other: %v", len(runs), firstThere, spokeAgain)
	}
	if kept := v.take(t, first[1]); !kept.Recorded || v.club(t).Runs.At("first").Figures.TurnsE6 == 0 {
		t.Errorf("%+v", kept)
	}
	if all := v.told(); len(all) != 0 {
		t.Errorf("a run without its beginning has a live speed: %+v", all)
	}
}

// TestWaitingChunksAreBounded: a run whose first chunk never comes holds few.
func TestWaitingChunksAreBounded(t *testing.T) {
	v := newServer(t, openSQLite(t))
	for n := 1; n < 3*mostWaiting; n++ {
		v.take(t, trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: "r1", Number: n}, Stamps: []int64{int64(n)}})
	}
	f := v.Intake.speeds.get(place{harbour, store.RunKey{Bench: "b1", Boot: boot, Run: "r1"}})
	if len(f.waiting) != mostWaiting {
		t.Errorf("%d chunks wait", len(f.waiting))
	}
}

// TestOrderOfBench finds the meet that needs a bench, past meets that are over or
// do not have it.
func TestOrderOfBench(t *testing.T) {
	v := newServer(t, openSQLite(t))
	division := day.Division{
		ID: "open", Name: "Open", AgeTo: 99, Class: day.CarClass{LapUM: 20_000_000},
		Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "best"})},
	}
	begin := func(id string, bench day.Bench) {
		v.plan(
			t, id, meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall " + id, Date: "2027-03-06"}, Rules: day.UsualRules()},
			meet.AddDivision{Division: division}, meet.AddBench{Bench: bench},
			meet.TakeEntry{ID: "e1", Division: "open", StartNumber: 1, Entrant: "p1", Car: "c1", Age: 9}, meet.CheckIn{Entry: "e1", There: true},
			meet.CloseEntries{Division: "open"}, meet.DrawRound{Division: "open"}, meet.CallHeat{Heat: "open-1.1.1"},
		)
	}
	order := func(bench day.BenchID) Assignment {
		t.Helper()
		o, err := v.Assignment(context.Background(), harbour, bench)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	if o := order("b1"); o.Meet != "" || o.OutOfService {
		t.Errorf("without a meet: %+v", o)
	}
	begin("a-autumn", benchOne)
	if o := order("b1"); o.Meet != "a-autumn" || o.Order.Heat != "open-1.1.1" || o.Order.Entry != "e1" {
		t.Errorf("called: %+v", o.Order)
	}
	v.plan(
		t, "a-autumn", meet.Withdraw{Entry: "e1", Reason: day.Reason{Code: day.ReasonFamily}},
		meet.ChangeBenchService{Bench: "b1", Out: true, Reason: day.Reason{Code: day.ReasonBenchFault}},
	)
	if o := order("b1"); o.Meet != "" || !o.OutOfService {
		t.Errorf("the round is not closed yet: %+v", o)
	}
	v.plan(
		t, "a-autumn", meet.CloseRound{Division: "open", Early: &day.Reason{Code: day.ReasonTime}}, meet.PublishResults{Division: "open"},
	)
	if o := order("b1"); o.Meet != "" || o.OutOfService {
		t.Errorf("the meet is over: %+v", o)
	}
	if !v.answers[store.MeetStream(harbour, "a-autumn")].quiet {
		t.Error("the meet that is over is not known to need no bench")
	}
	second := benchOne
	second.ID = "b2"
	begin("b-winter", second)
	begin("c-spring", benchOne)
	if o := order("b1"); o.Meet != "c-spring" {
		t.Errorf("another meet calls: %+v", o)
	}
	if o := order("b2"); o.Meet != "b-winter" {
		t.Errorf("another bench: %+v", o)
	}
	begin("a-late", benchOne) // earlier by name, later by its call; "c-spring" was left unfinished
	if o := order("b1"); o.Meet != "a-late" {
		t.Errorf("the later call does not count: %+v", o)
	}
}
