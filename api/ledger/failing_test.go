package ledger_test

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/store"
)

var errStore = errors.New("the drive is full")

// failing is a store whose writes fail for as long as how says.
type failing struct {
	store.Logs
	how   atomic.Int32 // 0 not, else one of the ways
	tries atomic.Int32
}

// The ways to fail.
const (
	failsBefore = iota + 1 // the transaction does not begin
	failsAtEnd             // nothing of it is kept
	failsAfter             // all of it is kept, and nobody hears of it
)

func (f *failing) Write(ctx context.Context, s store.Stream, fn func(store.Tx) error) error {
	f.tries.Add(1)
	how := f.how.Load()
	if how == failsBefore {
		return errStore
	}
	err := f.Logs.Write(ctx, s, func(tx store.Tx) error {
		if err := fn(tx); err != nil || how != failsAtEnd {
			return err
		}
		return errStore
	})
	if how == failsAfter && err == nil {
		return errStore
	}
	return err
}

// TestFailedWriteKeepsNothing: the state is as before, and the order can be
// given again.
func TestFailedWriteKeepsNothing(t *testing.T) {
	for name, how := range map[string]int32{"before": failsBefore, "at the end": failsAtEnd} {
		t.Run(name, func(t *testing.T) {
			onBoth(t, func(t *testing.T, s store.Store) {
				f := &failing{Logs: s}
				l := newClubs(t, steady(f))
				do(t, l, register(1))
				before := now(t, l)
				f.how.Store(how)
				if _, err := l.Do(t.Context(), clubStream, register(2)); !errors.Is(err, errStore) {
					t.Fatalf("got %v", err)
				}
				if after := now(t, l); after != before {
					t.Errorf("the state moved from %v to %v", before.Head, after.Head)
				}
				checkLog(t, s, 1, before)
				f.how.Store(0)
				if r := do(t, l, register(2)); r.Again || r.Seq != 2 {
					t.Errorf("%+v", r)
				}
				checkLog(t, s, 2, now(t, l))
			})
		})
	}
}

// TestCommitThatWasNotHeardOf: the retry finds the answer, and what comes after
// stands behind it.
func TestCommitThatWasNotHeardOf(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		f := &failing{Logs: s}
		l := newClubs(t, steady(f))
		f.how.Store(failsAfter)
		if _, err := l.Do(t.Context(), clubStream, register(1)); !errors.Is(err, errStore) {
			t.Fatalf("got %v", err)
		}
		f.how.Store(0)
		if r := do(t, l, register(2)); r.Seq != 2 {
			t.Errorf("the next order stands at %d", r.Seq)
		}
		if r := do(t, l, register(1)); !r.Again || r.Seq != 1 {
			t.Errorf("the retry is answered %+v", r)
		}
		checkLog(t, s, 2, now(t, l))
	})
}

// TestStoreThatIsAway: a full batch is failed after a few tries and not one by
// one to the end, for each may take long.
func TestStoreThatIsAway(t *testing.T) {
	s := opened(t, newSQLite(t))
	f := &failing{Logs: s}
	f.how.Store(failsBefore)
	orders := make([]order, 20)
	for n := range orders {
		orders[n] = register(n + 1)
	}
	outcomes, l := together(t, s, steady(f), orders...)
	for i, o := range outcomes {
		if !errors.Is(o.err, errStore) {
			t.Errorf("order %d: %+v", i, o)
		}
	}
	if tries := f.tries.Load(); tries > 6 {
		t.Errorf("the store was tried %d times", tries)
	}
	f.how.Store(0)
	do(t, l, register(1))
}

// TestCloseAnswersAll: orders that came in are carried out and answered, later
// ones are turned away with a sentence.
func TestCloseAnswersAll(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		gate := make(chan struct{})
		l := newClubs(t, steady(stalled{s, gate}))
		answers := make(chan error, 10)
		for n := range 10 {
			go func() {
				_, err := l.Do(t.Context(), clubStream, register(n+1))
				answers <- err
			}()
		}
		gate <- struct{}{} // the first is being written
		closed := make(chan struct{})
		go func() {
			l.Close()
			close(closed)
		}()
		time.Sleep(10 * time.Millisecond)
		close(gate)
		<-closed
		carriedOut := 0
		for range 10 {
			if err := <-answers; err == nil {
				carriedOut++
			} else if err.Error() != "the server is shutting down: send the order again in a moment" {
				t.Error(err)
			}
		}
		if carriedOut == 0 {
			t.Error("none was carried out")
		}
		if _, err := l.Do(t.Context(), clubStream, register(11)); err == nil {
			t.Error("an order after Close was carried out")
		}
		checkLog(t, s, carriedOut, now(t, l))
	})
}
