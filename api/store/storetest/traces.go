package storetest

import (
	"math/rand/v2"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/store"
	"benchmeet/domain/trace"
)

const boot = "00000000000000b1"

func key(bench, run string, number int) trace.Key {
	return trace.Key{Bench: bench, Boot: boot, Run: run, Number: number}
}

func runKey(bench, run string) store.RunKey {
	return store.RunKey{Bench: bench, Boot: boot, Run: run}
}

// chunks makes a whole run of n chunks with three stamps each.
func chunks(bench, run string, n int) []trace.Stored {
	var out []trace.Stored
	at := int64(1000)
	for number := range n {
		c := trace.Chunk{Key: key(bench, run, number)}
		for range 3 {
			at += 6000
			c.Stamps = append(c.Stamps, at)
		}
		if number == n-1 {
			c.Last = &trace.Totals{Chunks: n, Stamps: 3 * n}
		}
		out = append(out, c.Pack())
	}
	return out
}

func testChunks(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	want := chunks("b1", "r1", 12)
	order := rand.New(rand.NewPCG(1, 2)).Perm(len(want))
	for round, wantFresh := range []bool{true, false} {
		for _, i := range order {
			isFresh, err := s.PutChunk(ctx, harbour, want[i])
			must(t, err)
			if isFresh != wantFresh {
				t.Errorf("round %d, chunk %d: fresh is %v", round, i, isFresh)
			}
		}
	}
	got, err := s.Chunks(ctx, harbour, runKey("b1", "r1"))
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("chunks (-want +got):\n%s", diff)
	}
	train, err := trace.Join(got)
	must(t, err)
	if len(train.Stamps) != 36 {
		t.Errorf("%d stamps came back, want 36", len(train.Stamps))
	}
	for name, other := range map[string]trace.Stored{
		"other stamps":      {Key: want[3].Key, Packed: []byte{1}},
		"an end":            {Key: want[3].Key, Packed: want[3].Packed, Last: []byte("{}")},
		"no stamps":         {Key: want[3].Key},
		"no end any more":   {Key: want[11].Key, Packed: want[11].Packed},
		"another end there": {Key: want[11].Key, Packed: want[11].Packed, Last: []byte("{}")},
	} {
		isFresh, err := s.PutChunk(ctx, harbour, other)
		wantError(t, name, err, store.ErrConflict)
		if isFresh {
			t.Errorf("%s: fresh in spite of the conflict", name)
		}
	}
	got, err = s.Chunks(ctx, harbour, runKey("b1", "r1"))
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("chunks after conflicts (-want +got):\n%s", diff)
	}
	empty := trace.Chunk{Key: key("b1", "empty", 0)}.Pack()
	_, err = s.PutChunk(ctx, harbour, empty)
	must(t, err)
	got, err = s.Chunks(ctx, harbour, runKey("b1", "empty"))
	must(t, err)
	if diff := cmp.Diff([]trace.Stored{empty}, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("a chunk without stamps (-want +got):\n%s", diff)
	}
	got, err = s.Chunks(ctx, harbour, runKey("b1", "never"))
	if err != nil || len(got) != 0 {
		t.Errorf("chunks of a run that never was: %v, %v", got, err)
	}
}

// A chunk that is sent many times at once is fresh once.
func testChunksAtOnce(t *testing.T, d Database) {
	ctx := t.Context()
	all := stores(t, d)
	want := chunks("b1", "r1", 8)
	var (
		freshOnes atomic.Int32
		done      sync.WaitGroup
	)
	for sender := range 6 {
		done.Go(func() {
			for i := range want {
				isFresh, err := all[sender%len(all)].PutChunk(ctx, harbour, want[(i+sender)%len(want)])
				if err != nil {
					t.Error(err)
				}
				if isFresh {
					freshOnes.Add(1)
				}
			}
		})
	}
	done.Wait()
	if n := freshOnes.Load(); int(n) != len(want) {
		t.Errorf("%d chunks were fresh, want %d", n, len(want))
	}
	got, err := all[0].Chunks(ctx, harbour, runKey("b1", "r1"))
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("chunks (-want +got):\n%s", diff)
	}
}

func testOpenRuns(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	put := func(club string, cs ...trace.Stored) {
		t.Helper()
		for _, c := range cs {
			_, err := s.PutChunk(ctx, club, c)
			must(t, err)
		}
	}
	check := func(want ...store.RunKey) {
		t.Helper()
		got, err := s.OpenRuns(ctx, harbour)
		must(t, err)
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("open runs (-want +got):\n%s", diff)
		}
	}
	r2, r1, r3 := chunks("b2", "r1", 2), chunks("b1", "r1", 3), chunks("B3", "r9", 1)
	put(harbour, r2...)
	put(harbour, r1[:2]...)
	check(runKey("b2", "r1"))
	put(harbour, r1[2])
	put(harbour, r3...)
	put("quay", chunks("b7", "r7", 1)...)
	check(runKey("B3", "r9"), runKey("b1", "r1"), runKey("b2", "r1"))
	for range 2 {
		must(t, s.CloseRun(ctx, harbour, runKey("b1", "r1")))
	}
	check(runKey("B3", "r9"), runKey("b2", "r1"))
	put(harbour, r1...) // a bench that sends it all again
	check(runKey("B3", "r9"), runKey("b2", "r1"))
	must(t, s.CloseRun(ctx, harbour, runKey("b9", "early")))
	put(harbour, chunks("b9", "early", 1)...)
	check(runKey("B3", "r9"), runKey("b2", "r1"))
	lost := chunks("b0", "lost", 2)
	put(harbour, lost[1]) // the last came, the first has not yet
	check(runKey("B3", "r9"), runKey("b0", "lost"), runKey("b2", "r1"))

	must(t, s.CloseRun(ctx, harbour, runKey("b9", "no chunk at all")))
	var runs []store.RunKey
	must(t, s.Runs(ctx, harbour, func(k store.RunKey) error {
		runs = append(runs, k)
		_, err := s.Chunks(ctx, harbour, k)
		return err
	}))
	want := []store.RunKey{
		runKey("B3", "r9"), runKey("b0", "lost"), runKey("b1", "r1"), runKey("b2", "r1"), runKey("b9", "early"),
	}
	if diff := cmp.Diff(want, runs); diff != "" {
		t.Errorf("runs (-want +got):\n%s", diff)
	}
	if err := s.Runs(ctx, harbour, func(store.RunKey) error { return errUndo }); err != errUndo { //nolint:errorlint // the very same
		t.Errorf("error %v, want %v itself", err, errUndo)
	}
}

// A frozen run is made of the chunks that it was frozen with, whatever comes later;
// that is kept apart, and keeps its rules.
func testFrozenRuns(t *testing.T, d Database) {
	open := d.New(t)
	ctx, s := t.Context(), opened(t, open)
	must(t, s.EnsureClub(ctx, store.Club{ID: harbour}))
	want := chunks("b1", "r1", 3)
	put := func(c trace.Stored, wantFresh bool) {
		t.Helper()
		isFresh, err := s.PutChunk(ctx, harbour, c)
		must(t, err)
		if isFresh != wantFresh {
			t.Errorf("chunk %d: fresh is %v", c.Key.Number, isFresh)
		}
	}
	for _, c := range want {
		put(c, true)
	}
	early := trace.Chunk{Key: key("b1", "r1", 7), Stamps: []int64{5}}.Pack() // before it is frozen, and no part of it
	put(early, true)
	must(t, s.FreezeRun(ctx, harbour, runKey("b1", "r1"), 3))
	must(t, s.FreezeRun(ctx, harbour, runKey("b1", "r1"), 8)) // the first decides
	empty := trace.Chunk{Key: key("b1", "r1", 50)}.Pack()
	next := trace.Chunk{Key: key("b1", "r1", 3), Stamps: []int64{9}, Last: &trace.Totals{Chunks: 4, Stamps: 10}}.Pack()
	put(empty, true)
	put(next, true)
	put(next, false)
	put(want[1], false)
	another := next
	another.Packed = []byte{4}
	_, err := s.PutChunk(ctx, harbour, another)
	wantError(t, "another content of a late chunk", err, store.ErrConflict)
	must(t, s.Close())
	s = opened(t, open)
	got, err := s.Chunks(ctx, harbour, runKey("b1", "r1"))
	must(t, err)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("what the run is made of (-want +got):\n%s", diff)
	}
	late, err := s.LateChunks(ctx, harbour, runKey("b1", "r1"))
	must(t, err)
	if diff := cmp.Diff([]trace.Stored{next, early, empty}, late, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("what came late (-want +got):\n%s", diff)
	}
	must(t, s.CloseRun(ctx, harbour, runKey("b1", "r1")))
	open2, err := s.OpenRuns(ctx, harbour)
	must(t, err)
	if len(open2) != 0 {
		t.Errorf("a frozen and closed run is open: %v", open2)
	}
}
