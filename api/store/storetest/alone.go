package storetest

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
	"testing"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

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
		// What was undone is in nobody's way.
		must(t, grow(ctx, s, streamOf(w), 1, "y"))
		checkChain(t, s, streamOf(w), want+1)
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
