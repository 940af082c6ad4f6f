package postgres_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/domain/journal"
)

var spring = store.MeetStream("harbour", "spring")

// sealed is the event that follows a head.
func sealed(t *testing.T, head journal.Head) journal.Record {
	t.Helper()
	r, err := journal.Seal(head, journal.Envelope{Stream: spring.String(), Seq: head.Seq + 1, Type: "MeetPlanned", V: 1, Data: []byte(`{}`)})
	must(t, err)
	return r
}

func batchOf(command string, epoch int64, after journal.Head, r journal.Record) store.Batch {
	answers := []store.Answer{{Command: command, Body: []byte("{}")}}
	return store.Batch{After: after, Records: []journal.Record{r}, Answers: answers, Epoch: epoch}
}

// TestServers come in, beat, are found dead at the beat where they stand, and go.
func TestServers(t *testing.T) {
	s := opened(t, pgtest.Database(t))
	ctx := t.Context()
	none, err := s.Servers(ctx)
	must(t, err)
	if len(none.All) != 0 || none.Epoch < 1 {
		t.Fatalf("a new database has %+v", none)
	}
	a := store.Server{ID: "a", Beat: 1, Reads: map[string]int{"RunRecorded": 2, "MeetPlanned": 1}}
	b := store.Server{ID: "b", Beat: 1, Reads: map[string]int{"RunRecorded": 1}}
	must(t, s.EnterServer(ctx, a))
	must(t, s.EnterServer(ctx, b))
	both, err := s.Servers(ctx)
	must(t, err)
	if diff := cmp.Diff(store.Servers{Epoch: none.Epoch + 2, All: []store.Server{a, b}}, both); diff != "" {
		t.Fatal(diff)
	}
	for range 3 {
		both, err = s.BeatServer(ctx, "a")
		must(t, err)
	}
	if len(both.All) != 2 || both.All[0].Beat != 4 || both.All[1].Beat != 1 || both.Epoch != none.Epoch+2 {
		t.Fatalf("after three beats there are %+v", both)
	}
	must(t, s.BuryServer(ctx, "a", 1)) // it has moved on
	must(t, s.BuryServer(ctx, "b", 1))
	if left, err := s.BeatServer(ctx, "b"); err != nil || len(left.All) != 1 || left.All[0].ID != "a" {
		t.Fatalf("one was buried, and there are %+v, %v", left, err)
	}
	must(t, s.EnterServer(ctx, a)) // again: it must not stand still
	if again, err := s.Servers(ctx); err != nil || len(again.All) != 1 || again.All[0].Beat != 5 || again.Epoch != none.Epoch+3 {
		t.Fatalf("one came in again, and there are %+v, %v", again, err)
	}
	must(t, s.LeaveServer(ctx, "a"))
	must(t, s.LeaveServer(ctx, "a"))
	if gone, err := s.Servers(ctx); err != nil || len(gone.All) != 0 || gone.Epoch != none.Epoch+3 {
		t.Fatalf("all have left, and there are %+v, %v", gone, err)
	}
}

// TestEpoch: what was decided before a server came in is not written after it.
func TestEpoch(t *testing.T) {
	s := opened(t, pgtest.Database(t))
	ctx := t.Context()
	before, err := s.Servers(ctx)
	must(t, err)
	first := sealed(t, journal.Head{})
	must(t, s.WriteBatch(ctx, spring, batchOf("1", before.Epoch, journal.Head{}, first)))
	must(t, s.EnterServer(ctx, store.Server{ID: "a", Reads: map[string]int{}}))
	second := sealed(t, first.Head())
	if err := s.WriteBatch(ctx, spring, batchOf("2", before.Epoch, first.Head(), second)); !errors.Is(err, store.ErrOvertaken) {
		t.Errorf("in one go: %v", err)
	}
	write := func(epoch int64) error {
		return s.Write(ctx, spring, func(tx store.Tx) error {
			return tx.(store.FleetTx).AppendAt(ctx, epoch, []journal.Record{second})
		})
	}
	if err := write(before.Epoch); !errors.Is(err, store.ErrServersChanged) {
		t.Errorf("with the store at hand: %v", err)
	}
	must(t, s.Read(ctx, spring, 1, func(r journal.Record) error {
		t.Errorf("record %d was kept", r.Seq)
		return nil
	}))
	must(t, write(before.Epoch+1))
	third := sealed(t, second.Head())
	must(t, s.WriteBatch(ctx, spring, batchOf("3", before.Epoch+1, second.Head(), third)))
	must(t, s.WriteBatch(ctx, spring, batchOf("4", 0, third.Head(), sealed(t, third.Head())))) // by who need not know
}

// TestEnteringWaitsForWrites that go by the epoch before: when it returns they are on disk,
// and those that begin meanwhile find the new one.
func TestEnteringWaitsForWrites(t *testing.T) {
	s := opened(t, pgtest.Database(t))
	ctx := t.Context()
	before, err := s.Servers(ctx)
	must(t, err)
	first := sealed(t, journal.Head{})
	appended, on := make(chan struct{}), make(chan struct{})
	wrote := make(chan error, 1)
	go func() {
		wrote <- s.Write(ctx, spring, func(tx store.Tx) error {
			err := tx.(store.FleetTx).AppendAt(ctx, before.Epoch, []journal.Record{first})
			close(appended)
			<-on
			return err
		})
	}()
	<-appended
	entered := make(chan error, 1)
	go func() { entered <- s.EnterServer(ctx, store.Server{ID: "a", Reads: map[string]int{}}) }()
	late := make(chan error, 1)
	other := store.MeetStream("harbour", "autumn")
	time.Sleep(200 * time.Millisecond) // it stands behind the write
	go func() {
		r, err := journal.Seal(journal.Head{}, journal.Envelope{Stream: other.String(), Seq: 1, Type: "MeetPlanned", V: 1, Data: []byte(`{}`)})
		if err == nil {
			err = s.WriteBatch(ctx, other, batchOf("9", before.Epoch, journal.Head{}, r))
		}
		late <- err
	}()
	select {
	case err := <-entered:
		t.Fatalf("it did not wait: %v", err)
	case <-time.After(100 * time.Millisecond):
	}
	close(on)
	must(t, <-wrote)
	must(t, <-entered)
	if now, err := s.Servers(ctx); err != nil || now.Epoch != before.Epoch+1 {
		t.Errorf("the epoch is %+v, %v", now, err)
	}
	if err := <-late; err != nil && !errors.Is(err, store.ErrOvertaken) {
		t.Errorf("a write that began meanwhile: %v", err)
	}
}

// TestEnteringDoesNotWaitForImports, which go by no epoch and may take long.
func TestEnteringDoesNotWaitForImports(t *testing.T) {
	s := opened(t, pgtest.Database(t))
	must(t, s.Write(t.Context(), spring, func(tx store.Tx) error {
		if err := tx.Append(t.Context(), []journal.Record{sealed(t, journal.Head{})}); err != nil {
			return err
		}
		ctx, stop := context.WithTimeout(t.Context(), 10*time.Second)
		defer stop()
		return s.EnterServer(ctx, store.Server{ID: "a", Reads: map[string]int{}})
	}))
}

// TestEnteringGivesUp where others never finish, in the time that it has, and lets writers
// through meanwhile.
func TestEnteringGivesUp(t *testing.T) {
	s := opened(t, pgtest.Database(t))
	before, err := s.Servers(t.Context())
	must(t, err)
	on := make(chan struct{})
	appended, wrote := make(chan struct{}), make(chan error, 1)
	go func() {
		wrote <- s.Write(t.Context(), spring, func(tx store.Tx) error {
			err := tx.(store.FleetTx).AppendAt(t.Context(), before.Epoch, []journal.Record{sealed(t, journal.Head{})})
			close(appended)
			<-on
			return err
		})
	}()
	<-appended
	ctx, stop := context.WithTimeout(t.Context(), 900*time.Millisecond)
	defer stop()
	if err := s.EnterServer(ctx, store.Server{ID: "a", Reads: map[string]int{}}); err == nil {
		t.Error("it came in")
	}
	other := store.MeetStream("harbour", "autumn")
	r, err := journal.Seal(journal.Head{}, journal.Envelope{Stream: other.String(), Seq: 1, Type: "MeetPlanned", V: 1, Data: []byte(`{}`)})
	must(t, err)
	must(t, s.WriteBatch(t.Context(), other, batchOf("9", before.Epoch, journal.Head{}, r)))
	close(on)
	must(t, <-wrote)
}
