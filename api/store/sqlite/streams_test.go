package sqlite_test

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// TestStreamsCostWithStreams: listing the streams of a season costs about what
// looking each of them up by itself costs, whatever stands in them. SQLite can plan
// it so that it walks through all records for each name, some thousand times more.
func TestStreamsCostWithStreams(t *testing.T) {
	const streams, records, allowed = 40, 400, 40
	s := opened(t, filepath.Join(t.TempDir(), "season.db"))
	if err := s.EnsureClub(t.Context(), store.Club{ID: "harbour"}); err != nil {
		t.Fatal(err)
	}
	names := make([]store.Stream, streams)
	for i := range names {
		names[i] = store.MeetStream("harbour", fmt.Sprintf("day-%02d", i))
		var all []journal.Record
		head := journal.Head{}
		for range records {
			r, err := journal.Seal(head, journal.Envelope{
				Stream: names[i].String(), Seq: head.Seq + 1, Type: "Noted", V: 1, Time: 1, Actor: "a", Command: "c", Data: []byte(`{}`),
			})
			if err != nil {
				t.Fatal(err)
			}
			head = r.Head()
			all = append(all, r)
		}
		if err := s.Write(t.Context(), names[i], func(tx store.Tx) error { return tx.Append(t.Context(), all) }); err != nil {
			t.Fatal(err)
		}
	}
	quickest := func(do func()) time.Duration {
		best := time.Hour
		for range 5 {
			began := time.Now()
			do()
			best = min(best, time.Since(began))
		}
		return best
	}
	list := quickest(func() {
		heads, err := s.Streams(t.Context(), "harbour")
		if err != nil || len(heads) != streams || heads[streams-1].Head.Seq != records {
			t.Fatalf("%d streams, %v", len(heads), err)
		}
	})
	floor := quickest(func() {
		for _, name := range names {
			if err := s.Read(context.Background(), name, records, func(journal.Record) error { return nil }); err != nil {
				t.Fatal(err)
			}
		}
	})
	if list > allowed*floor {
		t.Errorf("the list took %v, looking each up %v", list, floor)
	}
}
