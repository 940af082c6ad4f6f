package intake

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
)

// asked counts what is asked of a store.
type asked struct {
	store.Store
	times, lists, records atomic.Int64
}

func (a *asked) Streams(ctx context.Context, club string) ([]store.StreamHead, error) {
	a.times.Add(1)
	a.lists.Add(1)
	return a.Store.Streams(ctx, club)
}

func (a *asked) Read(ctx context.Context, s store.Stream, after int64, each func(journal.Record) error) error {
	a.times.Add(1)
	return a.Store.Read(ctx, s, after, func(r journal.Record) error {
		a.records.Add(1)
		return each(r)
	})
}

// TestPollCostsTheSameAllSeason: after forty race days that were left unfinished,
// with one of this day, a bench's first question reads one record of each old day,
// and every further one asks the store for nothing, until the day goes on.
func TestPollCostsTheSameAllSeason(t *testing.T) {
	disk := openSQLite(t)
	now := time.Date(2027, 4, 17, 10, 0, 0, 0, time.UTC)
	at := now.Add(-400 * 24 * time.Hour)
	o := ledger.Options{Key: []byte("key"), Alone: true, Now: func() time.Time { return at }}
	o.Logs = disk
	v := newServer(t, disk)
	v.meets = ledger.New(ledger.Meets(), o)
	t.Cleanup(v.meets.Close)
	begin := func(id string) {
		v.plan(
			t, id, meet.PlanMeet{Plan: day.Plan{Name: "Harbour Hall " + id, Date: "2027-03-06"}, Rules: day.UsualRules()},
			meet.AddDivision{Division: day.Division{
				ID: "open", Name: "Open", AgeTo: 99, Class: day.CarClass{LapUM: 20_000_000},
				Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "best"})},
			}}, meet.AddBench{Bench: benchOne},
			meet.TakeEntry{ID: "e1", Division: "open", StartNumber: 1, Entrant: "p1", Car: "c1", Age: 9}, meet.CheckIn{Entry: "e1", There: true},
			meet.CloseEntries{Division: "open"}, meet.DrawRound{Division: "open"}, meet.CallHeat{Heat: "open-1.1.1"},
		)
	}
	const days = 40
	for n := range days {
		at = at.Add(9 * 24 * time.Hour)
		begin(fmt.Sprintf("day-%02d", n))
	}
	at = now
	begin("today")

	counts := &asked{Store: disk}
	o.Logs = counts
	meets := ledger.New(ledger.Meets(), o)
	t.Cleanup(meets.Close)
	in := New(Options{Store: counts, Meets: meets, Clubs: v.clubs, Now: func() time.Time { return now }})
	ask := func() Assignment {
		order, err := in.Assignment(t.Context(), harbour, "b1")
		if err != nil {
			t.Fatal(err)
		}
		return order
	}
	if got := ask(); got.Meet != "today" || got.Order.Heat != "open-1.1.1" {
		t.Fatalf("got %q %q", got.Meet, got.Order.Heat)
	}
	if n := counts.records.Load(); n > days+20 {
		t.Errorf("the first question read %d records", n)
	}
	before := counts.times.Load()
	for range 100 {
		if got := ask(); got.Meet != "today" {
			t.Fatalf("got %q", got.Meet)
		}
	}
	if n := counts.times.Load() - before; n != 0 {
		t.Errorf("a hundred questions asked the store %d times", n)
	}
	order := ledger.Order[meet.Command]{
		ID: "off", Content: []byte{1}, Actor: "organiser", Command: meet.CallOff{Heat: "open-1.1.1", Reason: day.Reason{Code: day.ReasonTime}},
	}
	if _, err := meets.Do(t.Context(), store.MeetStream(harbour, "today"), order); err != nil {
		t.Fatal(err)
	}
	if got := ask(); got.Meet != "" {
		t.Errorf("after the call was taken back: %q %q", got.Meet, got.Order.Heat)
	}
	// An old day that is taken up again is on.
	order.ID = "off again"
	if _, err := meets.Do(t.Context(), store.MeetStream(harbour, "day-07"), order); err != nil {
		t.Fatal(err)
	}
	order.ID, order.Command = "call again", meet.CallHeat{Heat: "open-1.1.1"}
	if _, err := meets.Do(t.Context(), store.MeetStream(harbour, "day-07"), order); err != nil {
		t.Fatal(err)
	}
	if got := ask(); got.Meet != "day-07" {
		t.Errorf("an old day that goes on: %q", got.Meet)
	}
}
