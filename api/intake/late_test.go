package intake

import (
	"context"
	"errors"
	"testing"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/trace"
)

// dying is the store of a server that dies between recording a run and noting that it
// did.
type dying struct{ store.Store }

func (dying) CloseRun(context.Context, string, store.RunKey) error { return errors.New("killed") }

// A run that was recorded just before a crash stays as it is, and is recorded once,
// though chunks came under its key before the next server looked: one that follows its
// last, with an end that names another meet, and one far behind.
func TestLateChunksOverACrash(t *testing.T) {
	for name, open := range map[string]func() store.Store{
		"sqlite": func() store.Store { return openSQLite(t) },
		"postgres": func() store.Store {
			s, err := postgres.Open(t.Context(), pgtest.Database(t))
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = s.Close() })
			return s
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := open()
			first := newServer(t, dying{s})
			first.plan(t, "autumn", meet.PlanMeet{Plan: day.Plan{Name: "Autumn", Date: "2027-09-04"}, Rules: day.UsualRules()})
			key := func(n int) trace.Key { return trace.Key{Bench: "b1", Boot: boot, Run: "r", Number: n} }
			stamps := steadyTrain(100)
			first.take(t, trace.Chunk{Key: key(50)}) // a gap before it is no reason to wait
			first.take(t, trace.Chunk{Key: key(1), Stamps: stamps[50:], Last: &trace.Totals{Chunks: 2, Stamps: 100}})
			first.take(t, trace.Chunk{Key: key(0), Stamps: stamps[:50]})
			before := first.club(t).Runs.At("r")
			if before == nil || before.Trace == "" {
				t.Fatalf("the run is not recorded: %+v", before)
			}
			first.take(t, trace.Chunk{Key: key(2), Stamps: []int64{9_000_000}, Last: &trace.Totals{Chunks: 3, Stamps: 101, Meet: "autumn"}})

			second := newServer(t, s)
			if err := second.Sweep(t.Context(), harbour); err != nil {
				t.Error(err)
			}
			if runs := second.club(t).Runs; runs.Len() != 1 || runs.At("r") == nil || runs.At("r").Trace != before.Trace {
				t.Errorf("the club's runs are %v, want the one as it was", runs)
			}
			autumn, err := second.meets.At(t.Context(), store.MeetStream(harbour, "autumn"), 0)
			if err != nil || len(autumn.State.Runs) != 0 {
				t.Errorf("the other meet has runs: %v (%v)", autumn.State.Runs, err)
			}
			run := store.RunKey{Bench: "b1", Boot: boot, Run: "r"}
			train, _, err := second.Train(t.Context(), harbour, day.Run{ID: "r", Bench: "b1", Boot: boot, Trace: before.Trace})
			if err != nil || len(train.Stamps) != 100 {
				t.Errorf("its trace has %d stamps (%v), want 100", len(train.Stamps), err)
			}
			late, err := s.LateChunks(t.Context(), harbour, run)
			if err != nil || len(late) != 2 {
				t.Errorf("%d chunks wait apart (%v), want 2", len(late), err)
			}
			if open, err := s.OpenRuns(t.Context(), harbour); err != nil || len(open) != 0 {
				t.Errorf("runs still to record: %v (%v)", open, err)
			}
		})
	}
}
