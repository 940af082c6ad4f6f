package ledger_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
)

// TestRetryGetsTheSameAnswer, from this ledger and from one that was started
// later, though the state has moved on.
func TestRetryGetsTheSameAnswer(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := newClubs(t, steady(s))
		first := do(t, l, register(1))
		do(t, l, register(2))
		want := first
		want.Again = true
		for _, l := range []*clubs{l, newClubs(t, steady(s))} {
			if diff := cmp.Diff(want, do(t, l, register(1))); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			other := register(1)
			other.Content = []byte("car 3")
			if _, err := l.Do(t.Context(), clubStream, other); !errors.Is(err, ledger.ErrOtherContent) {
				t.Errorf("another content: %v", err)
			}
			checkLog(t, s, 2, now(t, l))
		}
	})
}

// TestAnswersWithoutEventsAreRemembered: an order that changes nothing has an
// answer too.
func TestAnswersWithoutEventsAreRemembered(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := newClubs(t, steady(s))
		do(t, l, register(1))
		same := register(1)
		same.ID = "again-with-another-id"
		first := do(t, l, same)
		if len(first.Events) != 0 || first.Seq != 1 {
			t.Errorf("%+v", first)
		}
		do(t, l, register(2))
		if again := do(t, l, same); !again.Again || again.Seq != 1 {
			t.Errorf("the remembered answer is %+v", again)
		}
	})
}

// TestRefusalsAreNotRemembered: the same order may be given again when what
// forbade it is gone.
func TestRefusalsAreNotRemembered(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		l := newClubs(t, steady(s))
		arm := order{ID: "arm", Content: []byte("arm"), Actor: "organiser", Command: club.ArmPractice{Bench: "b1", RaceUS: 60_000_000}}
		for range 2 {
			_, err := l.Do(t.Context(), clubStream, arm)
			if no, is := refusal.As(err); !is || no.Code != "no-bench" {
				t.Fatalf("got %v", err)
			}
		}
		do(t, l, order{ID: "bench", Content: []byte("bench"), Command: club.RegisterBench{Bench: bench("b1", 1)}})
		if r := do(t, l, arm); r.Again || r.Seq != 2 {
			t.Errorf("%+v", r)
		}
	})
}

// TestContentsAreKeyed: what is kept of a content cannot be found by trying
// likely contents, so the same content has another hash under another key.
func TestContentsAreKeyed(t *testing.T) {
	s := opened(t, newSQLite(t))
	do(t, newClubs(t, steady(s)), register(1))
	o := steady(s)
	o.Key = []byte("another key")
	if _, err := newClubs(t, o).Do(t.Context(), clubStream, register(1)); !errors.Is(err, ledger.ErrOtherContent) {
		t.Errorf("the hash does not depend on the key: %v", err)
	}
}

// TestWhoGoesAwayGetsItsAnswerLater: an order whose caller left is carried out
// or not; its retry always finds out.
func TestWhoGoesAwayGetsItsAnswerLater(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		gate := make(chan struct{})
		o := steady(stalled{s, gate})
		l := newClubs(t, o)
		ctx, leave := context.WithCancel(t.Context())
		answer := make(chan error)
		go func() {
			_, err := l.Do(ctx, clubStream, register(1))
			answer <- err
		}()
		gate <- struct{}{} // it is being written
		leave()
		if err := <-answer; err != nil && !errors.Is(err, context.Canceled) {
			t.Fatal(err)
		}
		close(gate)
		if r := do(t, l, register(1)); !r.Again || r.Seq != 1 {
			t.Errorf("%+v", r)
		}
		if _, err := l.Do(ctx, clubStream, register(2)); !errors.Is(err, context.Canceled) {
			t.Errorf("an order of somebody who has left already: %v", err)
		}
		checkLog(t, s, 1, now(t, l))
	})
}
