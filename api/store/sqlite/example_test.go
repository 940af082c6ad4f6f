package sqlite_test

import (
	"context"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/domain/journal"
)

// A club's first event is sealed behind the stream's head, written, and read.
func Example() {
	ctx := context.Background()
	folder, err := os.MkdirTemp("", "benchmeet")
	if err != nil {
		log.Fatal(err)
	}
	defer func() { _ = os.RemoveAll(folder) }()

	s, err := sqlite.Open(ctx, filepath.Join(folder, "benchmeet.db"))
	if err != nil {
		log.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	if err := s.EnsureClub(ctx, store.Club{ID: "harbour", Name: "Harbour Hall"}); err != nil {
		log.Fatal(err)
	}

	club := store.ClubStream("harbour")
	record, err := journal.Seal(journal.Head{}, journal.Envelope{
		Stream: club.String(),
		Seq:    1,
		Type:   "BenchRegistered",
		V:      1,
		Actor:  "organiser-1",
		Data:   []byte(`{"bench":"b1"}`),
	})
	if err != nil {
		log.Fatal(err)
	}
	if err := s.Write(ctx, club, func(tx store.Tx) error {
		return tx.Append(ctx, []journal.Record{record})
	}); err != nil {
		log.Fatal(err)
	}
	if err := s.Read(ctx, club, 0, func(r journal.Record) error {
		e, err := r.Open()
		fmt.Println(e.Stream, e.Seq, e.Type, string(e.Data))
		return err
	}); err != nil {
		log.Fatal(err)
	}
	// Output: harbour/club 1 BenchRegistered {"bench":"b1"}
}
