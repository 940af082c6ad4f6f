package storetest

import (
	"context"
	"sync"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

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
	if err != errUndo || count != 700 { //nolint:errorlint // it must be the very same
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
