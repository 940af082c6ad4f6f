package ledger_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"benchmeet/api/fleet"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
	"benchmeet/domain/workshop"
)

// knowing are the servers as one of them knows them; it asks when it is told to.
type knowing struct {
	mu     sync.Mutex
	store  store.Fleet
	common store.Common
	looks  int
}

func (k *knowing) Common() store.Common {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.common
}

func (k *knowing) Look(ctx context.Context) error {
	now, err := k.store.Servers(ctx)
	if err != nil {
		return err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.looks++
	k.common = store.Common{Epoch: now.Epoch}
	for _, s := range now.All {
		k.common.Reads = s.Reads // there is one other at most
	}
	return nil
}

// before is what a program read that knew version 1 of everything, and no benches.
func before() map[string]int {
	reads := ledger.Clubs().Reads()
	for kind := range reads {
		reads[kind] = 1
	}
	delete(reads, "BenchRegistered")
	return reads
}

func change(n, state int, notedUS int64) order {
	return order{
		ID: fmt.Sprintf("change-%d-%d-%d", n, state, notedUS), Content: fmt.Appendf(nil, "change %d %d", state, notedUS), Actor: "organiser",
		Command: club.ChangeCar{Number: n, Setup: workshop.Setup{Driving: state, Driven: 4 * state}, NotedUS: notedUS},
	}
}

// lastStepUS is when car 1 was changed last.
func lastStepUS(t *testing.T, l *clubs) int64 {
	t.Helper()
	return now(t, l).State.Lives.At("car-1").Now().AtUS
}

func versionsOf(all []journal.Envelope, kind string) (out []int) {
	for _, e := range all {
		if e.Type == kind {
			out = append(out, e.V)
		}
	}
	return out
}

// TestEventsAreWrittenAsAllReadThem: the version of an event is that which every server
// reads; what it cannot say is refused and changes nothing.
func TestEventsAreWrittenAsAllReadThem(t *testing.T) {
	onBoth(t, func(t *testing.T, s store.Store) {
		known := &knowing{common: store.Common{Reads: before()}}
		o := steady(s)
		o.Fleet = known
		l := newClubs(t, o)
		do(t, l, register(1))
		do(t, l, change(1, 10, 0))
		added := order{ID: "bench", Content: []byte("bench"), Actor: "organiser", Command: club.RegisterBench{Bench: bench("b1", 1)}}
		noted := change(1, 11, lastStepUS(t, l)+1)
		for name, o := range map[string]order{"a version that says less": noted, "a kind that is not known": added} {
			if _, err := l.Do(t.Context(), clubStream, o); !refusedAs("server-earlier")(outcome{err: err}) {
				t.Errorf("%s: %v", name, err)
			}
		}
		if all := checkLog(t, s, 2, now(t, l)); fmt.Sprint(versionsOf(all, "CarChanged")) != "[1]" {
			t.Errorf("written in versions %v", versionsOf(all, "CarChanged"))
		}
		known.mu.Lock()
		known.common.Reads = nil
		known.mu.Unlock()
		do(t, l, noted) // under the same id: nothing is remembered of a refusal
		do(t, l, change(1, 12, 0))
		if got := fmt.Sprint(versionsOf(checkLog(t, s, 4, now(t, l)), "CarChanged")); got != "[1 2 2]" {
			t.Errorf("written in versions %s", got)
		}
	})
}

// TestAServerComesIn between two orders: the second is written as it reads it, though whoever
// writes knew nothing of it, in one go and with the store at hand.
func TestAServerComesIn(t *testing.T) {
	for _, tt := range []struct {
		name   string
		people []store.Person
	}{{"in one go", nil}, {"with people", []store.Person{{ID: "p-1", Name: "Ada Quay", DisplayName: "Ada"}}}} {
		t.Run(tt.name, func(t *testing.T) {
			s := opened(t, newPostgres(t))
			shared, is := s.(store.Fleet)
			if !is {
				t.Fatal("this store is not shared")
			}
			known := &knowing{store: shared}
			must(t, known.Look(t.Context()))
			o := steady(s)
			o.Fleet = known
			l := newClubs(t, o)
			do(t, l, register(1))
			do(t, l, change(1, 10, 0))
			must(t, shared.EnterServer(t.Context(), store.Server{ID: "old", Reads: before()}))
			second := change(1, 11, 0)
			second.People = tt.people
			do(t, l, second)
			noted := change(1, 12, lastStepUS(t, l)+1)
			noted.People = tt.people
			if _, err := l.Do(t.Context(), clubStream, noted); !refusedAs("server-earlier")(outcome{err: err}) {
				t.Errorf("what it does not read: %v", err)
			}
			if got := fmt.Sprint(versionsOf(checkLog(t, s, 3, now(t, l)), "CarChanged")); got != "[2 1]" {
				t.Errorf("written in versions %s", got)
			}
			if known.looks != 2 {
				t.Errorf("it looked %d times", known.looks)
			}
			must(t, shared.LeaveServer(t.Context(), "old"))
			must(t, known.Look(t.Context()))
			do(t, l, noted)
		})
	}
}

// TestNobodyIsToldWhoIsNotThere: a server that is alone with a database tells nobody of what
// it writes; from the first order after another has come in, it does.
func TestNobodyIsToldWhoIsNotThere(t *testing.T) {
	s := opened(t, newPostgres(t))
	shared, is := s.(store.Fleet)
	if !is {
		t.Fatal("this store is not shared")
	}
	member, err := fleet.Enter(t.Context(), fleet.Options{Store: shared, Reads: ledger.Clubs().Reads()})
	must(t, err)
	o := steady(s)
	o.Fleet = member
	l := newClubs(t, o)
	listening, stop := context.WithCancel(t.Context())
	defer stop()
	notices, err := s.Changes(listening)
	must(t, err)
	// heard are whose notices came up to that of a stream, which is told of at the end.
	marker := store.MeetStream(clubStream.Club, "marker")
	var end journal.Head
	heard := func() (out []store.Stream) {
		r, err := journal.Seal(end, journal.Envelope{Stream: marker.String(), Seq: end.Seq + 1, Type: "MeetPlanned", V: 1, Data: []byte(`{}`)})
		must(t, err)
		end = r.Head()
		must(t, s.Write(t.Context(), marker, func(tx store.Tx) error { return tx.Append(t.Context(), []journal.Record{r}) }))
		for {
			select {
			case one := <-notices:
				if one == marker {
					return out
				}
				out = append(out, one)
			case <-time.After(time.Minute):
				t.Fatal("no notice came")
			}
		}
	}
	do(t, l, register(1))
	do(t, l, change(1, 10, 0))
	if got := heard(); len(got) > 0 {
		t.Errorf("alone, it told of %v", got)
	}
	must(t, shared.EnterServer(t.Context(), store.Server{ID: "other", Reads: ledger.Clubs().Reads()}))
	do(t, l, change(1, 11, 0))
	if got := append(heard(), heard()...); !slices.Contains(got, clubStream) { // notices of one moment come in any order
		t.Error("another has come in, and was not told")
	}
}

// TestALaterLog is not damaged: whoever asks is told to start the newer program.
func TestALaterLog(t *testing.T) {
	s := opened(t, newSQLite(t))
	do(t, newClubs(t, steady(s)), register(1))
	model := ledger.Clubs()
	model.Decode = func(kind string, version int, _ []byte) (club.Event, error) {
		return nil, fmt.Errorf("version %d of %s: %w", version, kind, journal.ErrLater)
	}
	l := ledger.New(model, steady(s))
	t.Cleanup(l.Close)
	_, err := l.At(t.Context(), clubStream, 0)
	if !errors.Is(err, ledger.ErrLater) || !errors.Is(err, ledger.ErrDamaged) {
		t.Errorf("got %v", err)
	}
	model.Decode = func(string, int, []byte) (club.Event, error) { return nil, errors.New("no") }
	broken := ledger.New(model, steady(s))
	t.Cleanup(broken.Close)
	if _, err := broken.At(t.Context(), clubStream, 0); errors.Is(err, ledger.ErrLater) || !errors.Is(err, ledger.ErrDamaged) {
		t.Errorf("a broken one: %v", err)
	}
}
