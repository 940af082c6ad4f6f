package storetest

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
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
		if err != errUndo { // it must be the very same
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

// stores opens the database as often as it may be open at once, up to two.
func stores(t *testing.T, d Database) []store.Store {
	open := d.New(t)
	out := []store.Store{opened(t, open)}
	if d.Shared {
		out = append(out, opened(t, open))
	}
	must(t, out[0].EnsureClub(t.Context(), store.Club{ID: harbour, Name: "Harbour Hall"}))
	return out
}

func testWriteAlone(t *testing.T, d Database) {
	const writers, writes = 64, 6
	ctx := t.Context()
	all := stores(t, d)
	stream := store.MeetStream(harbour, "spring")
	var (
		inside atomic.Int32
		done   sync.WaitGroup
	)
	for w := range writers {
		s := all[w%len(all)]
		done.Go(func() {
			for i := range writes {
				err := s.Write(ctx, stream, func(tx store.Tx) error {
					if n := inside.Add(1); n != 1 {
						t.Errorf("%d writers are in the stream at once", n)
					}
					defer inside.Add(-1)
					head, err := headInside(ctx, tx)
					if err != nil {
						return err
					}
					return tx.Append(ctx, sealed(stream, head, 1, fmt.Sprintf("writer %d write %d", w, i)))
				})
				if err != nil {
					t.Errorf("writer %d: %v", w, err)
				}
			}
		})
	}
	done.Wait()
	for _, s := range all {
		checkChain(t, s, stream, writers*writes)
		told := make(map[string]int)
		for _, r := range recordsOf(t, s, stream, 0) {
			e, err := r.Open()
			must(t, err)
			told[string(e.Data)]++
		}
		if len(told) != writers*writes {
			t.Errorf("%d different events, want %d: some are doubled or lost", len(told), writers*writes)
		}
	}
}

// Writes that happen to be committed together are still kept or undone one by
// one.
func testWriteBesideFailures(t *testing.T, d Database) {
	const writers = 48
	ctx, s := fresh(t, d)
	streamOf := func(w int) store.Stream { return store.MeetStream(harbour, numbered("meet", w)) }
	var done sync.WaitGroup
	for w := range writers {
		done.Go(func() {
			ending, end := context.WithCancel(ctx)
			defer end()
			defer func() { _ = recover() }()
			_ = s.Write(ending, streamOf(w), func(tx store.Tx) error {
				if err := tx.Append(ctx, sealed(streamOf(w), journal.Head{}, 1, "x")); err != nil {
					return err
				}
				switch w % 4 {
				case 1:
					return errUndo
				case 2:
					end()
					return tx.PutText(ending, store.Text{ID: "t"})
				case 3:
					panic("undo this")
				}
				return nil
			})
		})
	}
	done.Wait()
	for w := range writers {
		want := 0
		if w%4 == 0 {
			want = 1
		}
		checkChain(t, s, streamOf(w), want)
	}
}

func testWriteOver(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream := store.ClubStream(harbour)
	var kept store.Tx
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		kept = tx
		return nil
	}))
	if err := kept.Append(ctx, sealed(stream, journal.Head{}, 1, "late")); err == nil {
		t.Error("a Tx can be used after its Write")
	}
	checkChain(t, s, stream, 0)
}

func testRead(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream := store.MeetStream(harbour, "spring")
	const n = 1500 // several pages of any size that makes sense
	must(t, grow(ctx, s, stream, n, "read"))
	checkChain(t, s, stream, n)
	for _, after := range []int64{-1, 0, 1, 511, 512, 513, n - 1, n, n + 1} {
		got := recordsOf(t, s, stream, after)
		want := int(max(0, n-max(0, after)))
		if len(got) != want || (want > 0 && got[0].Seq != max(0, after)+1) {
			t.Errorf("%d records after %d, want %d that begin right after it", len(got), after, want)
		}
	}
	count := 0
	err := s.Read(ctx, stream, 0, func(journal.Record) error {
		if count++; count == 700 {
			return errUndo
		}
		return nil
	})
	if err != errUndo || count != 700 { // it must be the very same
		t.Errorf("reading ended with %v after %d records, want %v after 700", err, count, errUndo)
	}
	ended, end := context.WithCancel(ctx)
	end()
	wantError(t, "Read", s.Read(ended, stream, 0, func(journal.Record) error { return nil }), context.Canceled)
}

func testReadWhileWriting(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream := store.MeetStream(harbour, "spring")
	must(t, grow(ctx, s, stream, 600, "before"))

	// What is not committed is not seen, and does not make a reader wait.
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		head, err := headInside(ctx, tx)
		if err != nil {
			return err
		}
		if err := tx.Append(ctx, sealed(stream, head, 1, "inside")); err != nil {
			return err
		}
		checkChain(t, s, stream, 600)
		return nil
	}))
	checkChain(t, s, stream, 601)

	// A reader does not make a writer wait, and sees the log as it was when it
	// began.
	count := 0
	must(t, s.Read(ctx, stream, 0, func(journal.Record) error {
		if count++; count%200 == 1 {
			return grow(ctx, s, stream, 1, "while reading")
		}
		return nil
	}))
	if count != 601 {
		t.Errorf("the reader saw %d records, want the 601 that were there when it began", count)
	}
	checkChain(t, s, stream, 605)

	// Readers at any moment see a whole batch or nothing of it.
	const batches = 40
	batched := store.MeetStream(harbour, "batched")
	stop := make(chan struct{})
	var readers sync.WaitGroup
	for range 4 {
		readers.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				n := 0
				if err := s.Read(ctx, batched, 0, func(journal.Record) error { n++; return nil }); err != nil {
					t.Error(err)
					return
				}
				if n%5 != 0 {
					t.Errorf("a reader saw %d records, not a multiple of the batch of 5", n)
				}
			}
		})
	}
	for range batches {
		must(t, grow(ctx, s, batched, 5, "batch"))
	}
	close(stop)
	readers.Wait()
	checkChain(t, s, batched, 5*batches)
}

func testStreams(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	if got, err := s.Streams(ctx, harbour); err != nil || len(got) != 0 {
		t.Errorf("streams of an empty club: %v, %v", got, err)
	}
	for n, stream := range []store.Stream{
		store.MeetStream(harbour, "summer"),
		store.ClubStream(harbour),
		store.MeetStream(harbour, "Spring"),
		store.MeetStream(harbour, "autumn"),
		store.MeetStream("quay", "winter"),
	} {
		must(t, grow(ctx, s, stream, n+1, "x"))
	}
	must(t, s.Write(ctx, store.MeetStream(harbour, "never"), func(tx store.Tx) error {
		return tx.Remember(ctx, []store.Answer{{Command: "c"}})
	}))
	got, err := s.Streams(ctx, harbour)
	must(t, err)
	var want []store.StreamHead
	for _, stream := range []store.Stream{
		store.ClubStream(harbour),
		store.MeetStream(harbour, "Spring"), // by bytes, so capitals come first
		store.MeetStream(harbour, "autumn"),
		store.MeetStream(harbour, "summer"),
	} {
		records := recordsOf(t, s, stream, 0)
		want = append(want, store.StreamHead{Stream: stream, Head: records[len(records)-1].Head()})
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("streams (-want +got):\n%s", diff)
	}
}

func testAnswers(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	stream, other := store.MeetStream(harbour, "spring"), store.ClubStream(harbour)
	want := map[string]store.Answer{
		"c1": {Command: "c1", Content: [32]byte{1, 0, 255}, Body: []byte(`{"seq":1}`)},
		"c2": {Command: "c2", Content: [32]byte{2}, Body: []byte{}},
	}
	// An answer is kept even where no event came of the command.
	must(t, s.Write(ctx, stream, func(tx store.Tx) error {
		if err := tx.Remember(ctx, []store.Answer{want["c1"], want["c2"]}); err != nil {
			return err
		}
		return tx.Remember(ctx, nil)
	}))
	look := func(stream store.Stream, commands ...string) (answers map[string]store.Answer) {
		must(t, s.Write(ctx, stream, func(tx store.Tx) (err error) {
			answers, err = tx.Answers(ctx, commands)
			return err
		}))
		return answers
	}
	if diff := cmp.Diff(want, look(stream, "c1", "c3", "c2", "c1"), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("answers (-want +got):\n%s", diff)
	}
	if got := look(stream); len(got) != 0 {
		t.Errorf("no commands give %v, want nothing", got)
	}
	if got := look(other, "c1", "c2"); len(got) != 0 {
		t.Errorf("another stream remembers %v, want nothing", got)
	}
	// A command has one answer; the first stays.
	for _, again := range []store.Answer{want["c1"], {Command: "c1", Body: []byte("other")}} {
		wantError(t, "Remember", s.Write(ctx, stream, func(tx store.Tx) error {
			return tx.Remember(ctx, []store.Answer{{Command: "c9"}, again})
		}), store.ErrConflict)
	}
	if diff := cmp.Diff(want, look(stream, "c1", "c2", "c9"), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("answers after refusals (-want +got):\n%s", diff)
	}
	must(t, s.Write(ctx, other, func(tx store.Tx) error {
		return tx.Remember(ctx, []store.Answer{{Command: "c1", Body: []byte("of the club")}})
	}))
	if got := string(look(other, "c1")["c1"].Body); got != "of the club" {
		t.Errorf("the other stream's answer is %q", got)
	}
}

func testChanges(t *testing.T, d Database) {
	ctx := t.Context()
	all := stores(t, d)
	listening, stop := context.WithCancel(ctx)
	defer stop()
	notices, err := all[len(all)-1].Changes(listening)
	must(t, err)
	if d.Shared {
		waiting := make(map[store.Stream]bool)
		for _, stream := range []store.Stream{store.ClubStream(harbour), store.MeetStream(harbour, "spring/2")} {
			must(t, grow(ctx, all[0], stream, 1, "noticed"))
			waiting[stream] = true
		}
		late := time.After(time.Minute)
		for len(waiting) > 0 {
			select {
			case stream := <-notices:
				delete(waiting, stream)
			case <-late:
				t.Fatalf("no notice of %v came", waiting)
			}
		}
	}
	stop()
	for range notices { // ends when the channel is closed
		continue
	}
}
