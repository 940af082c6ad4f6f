package ledger_test

import (
	"context"
	"errors"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// TestManyWriters: what 64 writers send at once is written once each, in one row
// of seqs without a gap, and each answer names the place of its own event.
func TestManyWriters(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		const writers, each = 64, 8
		l := newClubs(t, steady(s))
		var mu sync.Mutex
		places := map[int64]string{}
		var all sync.WaitGroup
		for w := range writers {
			all.Go(func() {
				for n := range each {
					o := register(1 + w*each + n)
					r, err := l.Do(t.Context(), clubStream, o)
					if err != nil || r.Thing != o.Thing || r.Again || !cmp.Equal(r.Events, []string{"CarRegistered"}) {
						t.Errorf("%s: %+v %v", o.ID, r, err)
					}
					mu.Lock()
					places[r.Seq] = o.ID
					mu.Unlock()
				}
			})
		}
		all.Wait()
		envelopes := checkLog(t, s, writers*each, now(t, l))
		for _, e := range envelopes {
			if places[e.Seq] != e.Command {
				t.Errorf("event %d came of %s, and %q was told that place", e.Seq, e.Command, places[e.Seq])
			}
		}
	})
}

// stalled is a store whose writes wait, so that orders gather behind one.
type stalled struct {
	store.Logs
	gate chan struct{}
}

func (s stalled) Write(ctx context.Context, name store.Stream, fn func(store.Tx) error) error {
	<-s.gate
	return s.Logs.Write(ctx, name, fn)
}

// together gives orders so that all but the first are decided in one batch, and
// returns their outcomes in order.
func together(t *testing.T, s store.Store, o ledger.Options, orders ...order) ([]outcome, *clubs) {
	t.Helper()
	gate := make(chan struct{})
	o.Logs = stalled{o.Logs, gate}
	l := newClubs(t, o)
	outcomes := make([]outcome, len(orders))
	var all sync.WaitGroup
	for i, order := range append([]order{register(9999)}, orders...) {
		queued := make(chan struct{})
		order.Content = append([]byte(nil), order.Content...)
		all.Go(func() {
			close(queued)
			r, err := l.Do(t.Context(), clubStream, order)
			if i > 0 {
				outcomes[i-1] = outcome{r, err}
			}
		})
		<-queued
		time.Sleep(5 * time.Millisecond) // so that they queue in this order
	}
	close(gate)
	all.Wait()
	return outcomes, l
}

type outcome struct {
	receipt ledger.Receipt
	err     error
}

// TestOneBadOrderFailsAlone: in one batch, an order that the store refuses, one
// that a rule refuses, one that cannot be written and one that meets a fault of
// the program fail, and the others are carried out.
func TestOneBadOrderFailsAlone(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		must(t, s.Erase(t.Context(), harbour, "gone", clockStart))
		erased := order{
			ID: "put", Content: []byte("put"), Command: club.KeepPerson{Person: "gone"},
			People: []store.Person{{ID: "gone", Name: "Child Quay"}},
		}
		kept := order{
			ID: "keep", Content: []byte("keep"), Command: club.KeepPerson{Person: "here"},
			People: []store.Person{{ID: "here", Name: "Child Pier"}}, Thing: "here",
		}
		refused := order{ID: "none", Content: []byte("none"), Command: club.RetireBench{Bench: "b9"}}
		fault := order{ID: "nil", Content: []byte("nil"), Command: nil} // has no decide
		var huge club.RecordPractice
		huge.ID, huge.Bench, huge.Figures.Laps = "huge", "b1", 1<<60 // beyond what an event may hold
		unwritable := order{ID: "huge", Content: []byte("huge"), Command: huge}

		outcomes, l := together(t, s, steady(s), register(1), erased, refused, register(2), fault, kept, unwritable, register(3))
		for i, fits := range []func(outcome) bool{
			carriedOut, conflict, refusedAs("no-bench"), carriedOut, failed, carriedOut, failed, carriedOut,
		} {
			if !fits(outcomes[i]) {
				t.Errorf("order %d: %+v", i, outcomes[i])
			}
		}
		checkLog(t, s, 4, now(t, l))
		if p, err := s.Person(t.Context(), harbour, "here"); err != nil || p.Name != "Child Pier" {
			t.Errorf("the good order's person is %+v, %v", p, err)
		}
		if _, err := s.Person(t.Context(), harbour, "gone"); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("an erased person is back: %v", err)
		}
	})
}

func carriedOut(o outcome) bool { return o.err == nil && o.receipt.Seq > 0 }
func conflict(o outcome) bool   { return errors.Is(o.err, store.ErrConflict) }

func failed(o outcome) bool {
	_, refused := refusal.As(o.err)
	return o.err != nil && !refused
}

func refusedAs(code refusal.Code) func(outcome) bool {
	return func(o outcome) bool {
		no, is := refusal.As(o.err)
		return is && no.Code == code
	}
}

// TestSameOrderTwiceInOneBatch: both get the same place; with another content
// the second is an error.
func TestSameOrderTwiceInOneBatch(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		other := register(2)
		other.ID = "register-1"
		outcomes, l := together(t, s, steady(s), register(1), register(1), other)
		first, again := outcomes[0].receipt, outcomes[1].receipt
		if outcomes[1].err != nil || !again.Again || first.Again {
			t.Errorf("%+v", outcomes)
		}
		again.Again = false
		if diff := cmp.Diff(first, again); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
		if !errors.Is(outcomes[2].err, ledger.ErrOtherContent) {
			t.Errorf("another content under the same id: %+v", outcomes[2])
		}
		checkLog(t, s, 2, now(t, l))
	})
}

// TestTimeNeverRunsBackwards, though the server's clock does.
func TestTimeNeverRunsBackwards(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		o := steady(s)
		clock := int64(clockStart)
		o.Now = func() time.Time {
			clock -= 3_600_000_000
			return time.UnixMicro(clock)
		}
		l := newClubs(t, o)
		for n := range 5 {
			do(t, l, register(n+1))
		}
		checkLog(t, s, 5, now(t, l))
		late := newClubs(t, o) // as after a restart: only the log knows the time
		do(t, late, register(6))
		for _, e := range checkLog(t, s, 6, now(t, late)) {
			if e.Time != clockStart-3_600_000_000 {
				t.Errorf("event %d is of %d", e.Seq, e.Time)
			}
		}
	})
}

// TestSeedReachesTheDecider: each order gets a seed of its own.
func TestSeedReachesTheDecider(t *testing.T) {
	o := steady(opened(t, newSQLite(t)))
	o.Seed = func(order string) uint64 { return uint64(len(order)) }
	model := ledger.Clubs()
	var got []uint64
	model.Decide = func(s *club.State, c club.Command, m meet.Meta) ([]club.Event, error) {
		got = append(got, m.Seed)
		return club.Decide(s, c, m)
	}
	l := ledger.New(model, o)
	defer l.Close()
	do(t, l, register(1))
	do(t, l, register(10))
	if diff := cmp.Diff([]uint64{10, 11}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	for range 1000 {
		if n := ledger.RandomSeed(""); n >= 1<<53 {
			t.Fatalf("the seed %d is not below 2^53", n)
		}
	}
}
