package intake

import (
	"fmt"
	"testing"
	"time"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/trace"
)

// racingMeet plans a meet with one bench and starts its first heat. Its run on bench
// 1 is open-1.1.1-L1-1.
func (v *server) racingMeet(t *testing.T, id string) {
	t.Helper()
	v.plan(t, id, meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall " + id, Date: "2027-03-06"}, Rules: day.UsualRules()})
	v.beginRace(t, id)
}

// beginRace goes on where the meet is planned.
func (v *server) beginRace(t *testing.T, id string) {
	t.Helper()
	v.plan(
		t, id, meet.AddDivision{Division: day.Division{
			ID: "open", Name: "Open", AgeTo: 99, Class: day.CarClass{LapUM: 20_000_000},
			Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "best"})},
		}}, meet.AddBench{Bench: benchOne},
		meet.TakeEntry{ID: "e1", Division: "open", StartNumber: 1, Entrant: "p1", Car: "c1", Age: 9}, meet.CheckIn{Entry: "e1", There: true},
		meet.CloseEntries{Division: "open"}, meet.DrawRound{Division: "open"}, meet.CallHeat{Heat: "open-1.1.1"},
		meet.ConfirmReady{Heat: "open-1.1.1", Bench: "b1", StartNumber: 1}, meet.StartHeat{Heat: "open-1.1.1"},
	)
}

const racedRun = "open-1.1.1-L1-1"

// TestChunksOfARaceListNothing: the box has asked for its order, as boxes do; then a
// hundred chunks of its run, each with its live speed, ask the store for no list of
// the club's meets and read none of their logs.
func TestChunksOfARaceListNothing(t *testing.T) {
	counts := &asked{Store: openSQLite(t)}
	v := newServer(t, counts)
	for n := range 20 {
		v.racingMeet(t, fmt.Sprintf("old-%02d", n))
	}
	v.racingMeet(t, "today")
	o, err := v.Assignment(t.Context(), harbour, "b1")
	if err != nil || o.Meet != "today" || o.Order.Run != racedRun {
		t.Fatalf("%v %+v", err, o)
	}
	time.Sleep(2100 * time.Millisecond) // a list of streams that was read before is old by now, see api/ledger
	lists, times := counts.lists.Load(), counts.times.Load()
	train := steadyTrain(3030)
	for n := range 100 {
		v.take(t, trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: racedRun, Number: n}, Stamps: train[30*n : 30*n+30]})
	}
	all := v.told()
	if len(all) != 100 {
		t.Errorf("%d live speeds came of 100 chunks", len(all))
	}
	for _, s := range all {
		if s.Meet != "today" || s.Number != benchOne.Number {
			t.Fatalf("a live speed of another race: %+v", s)
		}
	}
	if n := counts.lists.Load() - lists; n != 0 {
		t.Errorf("a hundred chunks listed the club's streams %d times", n)
	}
	if n := counts.times.Load() - times; n != 0 {
		t.Errorf("a hundred chunks read logs %d times", n)
	}
}

// TestLiveSpeedFindsItsRace: also on a server that no box has asked; not of a run that
// its lane does not await, nor on another bench.
func TestLiveSpeedFindsItsRace(t *testing.T) {
	disk := openSQLite(t)
	first := newServer(t, disk)
	first.racingMeet(t, "spring")
	for _, tt := range []struct {
		run  string
		want string
	}{{racedRun, "spring"}, {"open-1.1.1-L1-2", ""}, {"open-1.1.1-L2-1", ""}, {"practice-b1-1", ""}} {
		v := newServer(t, disk)
		v.take(t, trace.Chunk{Key: trace.Key{Bench: "b1", Boot: boot, Run: tt.run}, Stamps: steadyTrain(30)})
		if all := v.told(); len(all) != 1 || all[0].Meet != tt.want {
			t.Errorf("%s: %+v, want the meet %q", tt.run, all, tt.want)
		}
	}
	v := newServer(t, disk)
	v.take(t, trace.Chunk{Key: trace.Key{Bench: "b2", Boot: boot, Run: racedRun}, Stamps: steadyTrain(30)})
	if all := v.told(); len(all) != 1 || all[0].Meet != "" {
		t.Errorf("on another bench: %+v", all)
	}
}
