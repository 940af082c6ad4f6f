package ledger_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

func bench(id day.BenchID, number int) day.Bench {
	return day.Bench{ID: id, Number: number, CircumferenceUM: 94_248, UCircumUM: 20, Marks: 1, StampNS: 1000, ClockPPB: 20_000}
}

// twoProcesses are two ledgers on one PostgreSQL database, each with its own
// connections.
func twoProcesses(t *testing.T) (a, b *clubs, s store.Store) {
	t.Helper()
	open := newPostgres(t)
	s, other := opened(t, open), opened(t, open)
	return newClubs(t, steady(s)), newClubs(t, steady(other)), s
}

// TestTwoProcesses write to one stream at once: each event stands once, and each
// ledger catches up to all of them.
func TestTwoProcesses(t *testing.T) {
	a, b, s := twoProcesses(t)
	const writers, each = 8, 6
	var all sync.WaitGroup
	for w := range writers {
		for i, l := range []*clubs{a, b} {
			all.Go(func() {
				for n := range each {
					if _, err := l.Do(t.Context(), clubStream, register(1+(2*w+i)*each+n)); err != nil {
						t.Error(err)
					}
				}
			})
		}
	}
	all.Wait()
	const total = 2 * writers * each
	for _, l := range []*clubs{a, b} {
		snapshot, err := l.At(t.Context(), clubStream, total)
		must(t, err)
		checkLog(t, s, total, snapshot)
		if snapshot.State.Cars.Len() != total {
			t.Errorf("%d cars, want %d", snapshot.State.Cars.Len(), total)
		}
	}
}

// TestSameOrderToTwoProcesses is carried out once.
func TestSameOrderToTwoProcesses(t *testing.T) {
	a, b, s := twoProcesses(t)
	again := 0
	for n := range 20 {
		receipts := make([]ledger.Receipt, 2)
		var all sync.WaitGroup
		for i, l := range []*clubs{a, b} {
			all.Go(func() {
				var err error
				if receipts[i], err = l.Do(t.Context(), clubStream, register(n+1)); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		if receipts[0].Again == receipts[1].Again || receipts[0].Seq != receipts[1].Seq {
			t.Errorf("order %d: %+v", n, receipts)
		}
		again++
	}
	snapshot, err := a.At(t.Context(), clubStream, int64(again))
	must(t, err)
	checkLog(t, s, again, snapshot)
}

// TestRulesSeeWhatOthersWrote: two processes never hand one number to two cars.
func TestRulesSeeWhatOthersWrote(t *testing.T) {
	a, b, _ := twoProcesses(t)
	now(t, b) // it has loaded the empty stream
	do(t, a, register(1))
	taken := register(1)
	taken.ID, taken.Command = "taken", club.RegisterCar{Car: club.Car{ID: "other", Number: 1}}
	if _, err := b.Do(t.Context(), clubStream, taken); !refusedAs("car-taken")(outcome{err: err}) {
		t.Errorf("got %v", err)
	}
}

// TestAtWaits for a position that another process reaches later, and no longer
// than the reader does.
func TestAtWaits(t *testing.T) {
	a, b, _ := twoProcesses(t)
	do(t, a, register(1))
	now(t, b)
	reached := make(chan ledger.Snapshot[club.State], 1)
	go func() {
		snapshot, err := b.At(t.Context(), clubStream, 2)
		if err != nil {
			t.Error(err)
		}
		reached <- snapshot
	}()
	time.Sleep(3 * waitStep)
	select {
	case early := <-reached:
		t.Fatalf("it did not wait: %v", early.Head)
	default:
	}
	do(t, a, register(2))
	if snapshot := <-reached; snapshot.Head.Seq != 2 || snapshot.State.Cars.Len() != 2 {
		t.Errorf("got %v", snapshot.Head)
	}
	ctx, stop := context.WithTimeout(t.Context(), 3*waitStep)
	defer stop()
	if _, err := b.At(ctx, clubStream, 99); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("a position that never comes: %v", err)
	}
}

// waitStep is how often a waiting reader looks.
const waitStep = 20 * time.Millisecond

// TestFollow wakes the watchers of a stream when another process writes to it: on
// a notice, and where notices are lost by looking now and then.
func TestFollow(t *testing.T) {
	for _, tt := range []struct {
		name    string
		notices func(ctx context.Context, s store.Store) <-chan store.Stream
		every   time.Duration
	}{
		{"by notice", func(ctx context.Context, s store.Store) <-chan store.Stream {
			notices, err := s.Changes(ctx)
			must(t, err)
			return notices
		}, time.Hour},
		{"notices are lost", func(context.Context, store.Store) <-chan store.Stream { return nil }, 10 * time.Millisecond},
		{"notices end", func(context.Context, store.Store) <-chan store.Stream {
			ended := make(chan store.Stream)
			close(ended)
			return ended
		}, 10 * time.Millisecond},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a, b, s := twoProcesses(t)
			ctx, stop := context.WithCancel(t.Context())
			ended := make(chan struct{})
			notices := tt.notices(ctx, s)
			go func() {
				b.Follow(ctx, notices, tt.every)
				close(ended)
			}()
			changes, unwatch := b.Watch(clubStream)
			now(t, b)
			for n := 1; n <= 3; n++ {
				do(t, a, register(n))
				for now(t, b).Head.Seq < int64(n) {
					<-changes
				}
			}
			unwatch()
			stop()
			<-ended
		})
	}
}

// TestUnknownStreamsLeaveNothingBehind: neither readers, nor watchers, nor
// refused orders can fill the memory with streams that are not there.
func TestUnknownStreamsLeaveNothingBehind(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := ledger.New(ledger.Meets(), ledger.Options{Logs: s})
		defer l.Close()
		none := store.MeetStream(harbour, "none")
		_, unwatch := l.Watch(none)
		if snapshot, err := l.At(t.Context(), none, 0); err != nil || snapshot.State.Planned || snapshot.Head.Seq != 0 {
			t.Errorf("%+v %v", snapshot, err)
		}
		unwatch()
		ctx, stop := context.WithTimeout(t.Context(), time.Millisecond)
		defer stop()
		if _, err := l.At(ctx, none, 5); err == nil {
			t.Error("a stream that is not there reached a position")
		}
		_, err := l.Do(t.Context(), none, ledger.Order[meet.Command]{ID: "1", Content: []byte("1"), Command: meet.Resume{}})
		if err == nil {
			t.Error("a meet that is not planned was resumed")
		}
		l.Close() // the writer has rested by then
		if n := ledger.Loaded(l); n != 0 {
			t.Errorf("%d streams stay in memory", n)
		}
	})
}

// TestReadersDoNotHoldUpTheWriter: many readers that wait for a position far away
// look one at a time, and orders go on between them.
func TestReadersDoNotHoldUpTheWriter(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := newClubs(t, steady(s))
		do(t, l, register(1))
		ctx, stop := context.WithCancel(t.Context())
		var readers sync.WaitGroup
		for range 200 {
			readers.Go(func() { _, _ = l.At(ctx, clubStream, 1<<40) })
		}
		for n := range 20 {
			do(t, l, register(n+2))
		}
		stop()
		readers.Wait()
		checkLog(t, s, 21, now(t, l))
	})
}
