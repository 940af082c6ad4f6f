package storetest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"testing"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// sealed makes the n records that follow head, each telling what.
func sealed(s store.Stream, head journal.Head, n int, what string) []journal.Record {
	var records []journal.Record
	for range n {
		r, err := journal.Seal(head, journal.Envelope{
			Stream:  s.String(),
			Seq:     head.Seq + 1,
			Type:    "BenchRegistered",
			V:       1,
			Time:    1_700_000_000_000_000 + head.Seq,
			Actor:   "official-1",
			Command: "0190a0c0-0000-7000-8000-000000000001",
			Data:    json.RawMessage(`{"bench":"b1","circumference_um":94250,"marks_per_turn":1,"what":` + strconv.Quote(what) + `}`),
		})
		if err != nil {
			panic(err) // a fault of this function, not of the store
		}
		records = append(records, r)
		head = r.Head()
	}
	return records
}

// grow appends n records to the stream, whatever its head is.
func grow(ctx context.Context, s store.Store, stream store.Stream, n int, what string) error {
	return s.Write(ctx, stream, func(tx store.Tx) error {
		head, err := headInside(ctx, tx)
		if err != nil {
			return err
		}
		return tx.Append(ctx, sealed(stream, head, n, what))
	})
}

// headInside follows the chain of the stream inside a transaction.
func headInside(ctx context.Context, tx store.Tx) (journal.Head, error) {
	var head journal.Head
	err := tx.Read(ctx, 0, func(r journal.Record) (err error) {
		head, err = head.Follow(r)
		return err
	})
	return head, err
}

// recordsOf reads a stream after a seq.
func recordsOf(t testing.TB, s store.Store, stream store.Stream, after int64) []journal.Record {
	t.Helper()
	var records []journal.Record
	must(t, s.Read(t.Context(), stream, after, func(r journal.Record) error {
		records = append(records, r)
		return nil
	}))
	return records
}

// checkChain fails unless the stream is an unbroken chain of n records.
func checkChain(t testing.TB, s store.Store, stream store.Stream, n int) {
	t.Helper()
	var head journal.Head
	for _, r := range recordsOf(t, s, stream, 0) {
		var err error
		head, err = head.Follow(r)
		must(t, err)
	}
	if head.Seq != int64(n) {
		t.Errorf("%s ends at %d, want %d", stream, head.Seq, n)
	}
}

// wantError fails unless err is of the wanted kind.
func wantError(t testing.TB, what string, err, kind error) {
	t.Helper()
	if !errors.Is(err, kind) {
		t.Errorf("%s: error %v, want one that is %q", what, err, kind)
	}
}

// errUndo is what tests return from a Write that is to be undone.
var errUndo = errors.New("undo this")

// numbered is a name that sorts by its number.
func numbered(prefix string, n int) string { return fmt.Sprintf("%s-%04d", prefix, n) }
