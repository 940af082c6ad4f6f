package storetest

import (
	"context"
	"errors"
	"testing"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"github.com/google/go-cmp/cmp"
)

func testAppend(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	meet := store.MeetStream(harbour, "spring")
	want := sealed(meet, journal.Head{}, 5, "ä quoted \" word")
	must(t, s.Write(ctx, meet, func(tx store.Tx) error {
		if err := tx.Append(ctx, want[:2]); err != nil {
			return err
		}
		return tx.Append(ctx, want[2:3])
	}))
	must(t, s.Write(ctx, meet, func(tx store.Tx) error {
		if err := tx.Append(ctx, nil); err != nil {
			return err
		}
		if err := tx.Append(ctx, want[3:]); err != nil {
			return err
		}
		var inside []journal.Record
		err := tx.Read(ctx, 1, func(r journal.Record) error {
			inside = append(inside, r)
			return nil
		})
		if diff := cmp.Diff(want[1:], inside); diff != "" {
			t.Errorf("records after 1 inside Write (-want +got):\n%s", diff)
		}
		return err
	}))
	if diff := cmp.Diff(want, recordsOf(t, s, meet, 0)); diff != "" {
		t.Errorf("records (-want +got):\n%s", diff)
	}
	if got := recordsOf(t, s, store.ClubStream(harbour), 0); got != nil {
		t.Errorf("another stream holds %v, want nothing", got)
	}
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	if got := recordsOf(t, s, store.MeetStream("quay", "spring"), 0); got != nil {
		t.Errorf("another club's stream holds %v, want nothing", got)
	}
}

func testAppendRefused(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream := store.ClubStream(harbour)
	right := sealed(stream, journal.Head{}, 6, "right")
	other := sealed(stream, journal.Head{}, 6, "other")
	must(t, s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, right[:3]) }))
	for _, c := range []struct {
		name    string
		records []journal.Record
		kind    error
	}{
		{"a seq that is there", other[2:3], store.ErrConflict},
		{"the same record again", right[2:3], store.ErrConflict},
		{"the last seq twice in one call", []journal.Record{right[3], right[3]}, store.ErrConflict},
		{"a gap", right[4:5], journal.ErrBrokenChain},
		{"a gap in the middle", []journal.Record{right[3], right[5]}, journal.ErrBrokenChain},
		{"a record of another chain", other[3:4], journal.ErrBrokenChain},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantError(t, "Write", s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, c.records) }), c.kind)
			checkChain(t, s, stream, 3)
		})
	}
	t.Run("and go on in the same Write", func(t *testing.T) {
		must(t, s.Write(ctx, stream, func(tx store.Tx) error {
			wantError(t, "Append", tx.Append(ctx, other[2:3]), store.ErrConflict)
			return tx.Append(ctx, right[3:])
		}))
		checkChain(t, s, stream, 6)
	})
}

// touch does everything that a Tx can do.
func touch(ctx context.Context, tx store.Tx, stream store.Stream) error {
	return errors.Join(
		tx.Append(ctx, sealed(stream, journal.Head{}, 2, "touched")),
		tx.Remember(ctx, []store.Answer{{Command: "c1", Body: []byte("{}")}}),
		tx.PutPerson(ctx, store.Person{ID: "p1", Name: "Somebody"}),
		tx.PutText(ctx, store.Text{ID: "t1", Text: "something"}),
	)
}

// checkUntouched fails if any of it was kept.
func checkUntouched(t *testing.T, s store.Store, stream store.Stream) {
	t.Helper()
	ctx := t.Context()
	checkChain(t, s, stream, 0)
	_, err := s.Person(ctx, harbour, "p1")
	wantError(t, "Person", err, store.ErrNotFound)
	_, err = s.Text(ctx, harbour, "t1")
	wantError(t, "Text", err, store.ErrNotFound)
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		answers, err := tx.Answers(ctx, []string{"c1"})
		if len(answers) != 0 {
			t.Errorf("an answer was kept: %v", answers)
		}
		return err
	}))
}

func testWriteAllOrNothing(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream := store.MeetStream(harbour, "spring")
	t.Run("an error is returned as it is", func(t *testing.T) {
		err := s.Write(ctx, stream, func(tx store.Tx) error {
			must(t, touch(ctx, tx, stream))
			return errUndo
		})
		if err != errUndo { //nolint:errorlint // it must be the very same
			t.Errorf("error %v, want %v itself", err, errUndo)
		}
		checkUntouched(t, s, stream)
	})
	t.Run("a panic passes through", func(t *testing.T) {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("the panic was swallowed")
				}
			}()
			_ = s.Write(ctx, stream, func(tx store.Tx) error {
				must(t, touch(ctx, tx, stream))
				panic("undo this")
			})
		}()
		checkUntouched(t, s, stream)
	})
	t.Run("a context that has ended", func(t *testing.T) {
		ended, end := context.WithCancel(ctx)
		end()
		err := s.Write(ended, stream, func(store.Tx) error {
			t.Error("fn was run")
			return nil
		})
		wantError(t, "Write", err, context.Canceled)
	})
	t.Run("a context that ends inside", func(t *testing.T) {
		ending, end := context.WithCancel(ctx)
		err := s.Write(ending, stream, func(tx store.Tx) error {
			must(t, touch(ending, tx, stream))
			end()
			return tx.PutText(ending, store.Text{ID: "t2"})
		})
		wantError(t, "Write", err, context.Canceled)
		checkUntouched(t, s, stream)
	})
	t.Run("nothing to keep", func(t *testing.T) {
		must(t, s.Write(ctx, stream, func(store.Tx) error { return nil }))
		checkUntouched(t, s, stream)
	})
	t.Run("all is kept", func(t *testing.T) {
		must(t, s.Write(ctx, stream, func(tx store.Tx) error { return touch(ctx, tx, stream) }))
		checkChain(t, s, stream, 2)
	})
}

// testBatch is for stores that write batches: what WriteBatch keeps, and that it keeps
// nothing of what was decided on something that is not so any more.
func testBatch(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	to, can := s.(store.Batcher)
	if !can {
		return // Write is all it has
	}
	stream := store.MeetStream(harbour, "spring")
	right := sealed(stream, journal.Head{}, 6, "right")
	other := sealed(stream, journal.Head{}, 6, "other")
	answer := func(command string) []store.Answer {
		return []store.Answer{{Command: command, Content: [32]byte{1}, Body: []byte(`{"of":"` + command + `"}`)}}
	}
	must(t, to.WriteBatch(ctx, stream, store.Batch{Records: right[:2], Answers: append(answer("c1"), answer("c2")...)}))
	checkChain(t, s, stream, 2)
	for _, c := range []struct {
		name  string
		batch store.Batch
		kind  error
	}{
		{"on an empty log", store.Batch{Records: right[:1], Answers: answer("c3")}, store.ErrOvertaken},
		{"on an empty log, without a record", store.Batch{Answers: answer("c3")}, store.ErrOvertaken},
		{"on an older end", store.Batch{After: right[0].Head(), Records: right[1:2], Answers: answer("c3")}, store.ErrOvertaken},
		{"on an end that is not there yet", store.Batch{After: right[2].Head(), Records: right[3:4], Answers: answer("c3")}, store.ErrOvertaken},
		{"on the end of another chain", store.Batch{After: other[1].Head(), Records: other[2:3], Answers: answer("c3")}, store.ErrOvertaken},
		{"of a command that has its answer", store.Batch{After: right[1].Head(), Records: right[2:3], Answers: answer("c2")}, store.ErrOvertaken},
		{"with one such command", store.Batch{
			After: right[1].Head(), Records: right[2:4], Answers: append(answer("c3"), answer("c1")...),
		}, store.ErrOvertaken},
		{"a gap", store.Batch{After: right[1].Head(), Records: right[3:4], Answers: answer("c3")}, journal.ErrBrokenChain},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantError(t, "WriteBatch", to.WriteBatch(ctx, stream, c.batch), c.kind)
			checkChain(t, s, stream, 2)
		})
	}
	wantError(t, "WriteBatch", to.WriteBatch(ctx, store.ClubStream("nobody"), store.Batch{Answers: answer("c1")}), store.ErrNotFound)
	wantError(t, "WriteBatch", to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head()}), store.ErrNobody)
	// One without records, and one on top of it.
	must(t, to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head(), Answers: answer("c4")}))
	must(t, to.WriteBatch(ctx, stream, store.Batch{After: right[1].Head(), Records: right[2:], Answers: answer("c5")}))
	checkChain(t, s, stream, 6)
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		answers, err := tx.Answers(ctx, []string{"c1", "c2", "c3", "c4", "c5"})
		want := map[string]store.Answer{}
		for _, command := range []string{"c1", "c2", "c4", "c5"} {
			want[command] = answer(command)[0]
		}
		if diff := cmp.Diff(want, answers); diff != "" {
			t.Errorf("answers (-want +got):\n%s", diff)
		}
		return err
	}))
}
