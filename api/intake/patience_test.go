package intake

import (
	"context"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/trace"
)

// looks counts how often the chunks of a run are read.
type looks struct {
	store.Store
	n int
}

func (l *looks) Chunks(ctx context.Context, club string, run store.RunKey) ([]trace.Stored, error) {
	l.n++
	return l.Store.Chunks(ctx, club, run)
}

// TestIncompleteRunsWaitLonger: a run that lacks a chunk is read some dozens of times
// in two days of sweeps and not every few seconds; a chunk that comes through
// another server is met before the run has waited twice as long, and one that comes
// through this server at the next sweep.
func TestIncompleteRunsWaitLonger(t *testing.T) {
	const every = 5 * time.Second // as the server sweeps
	l := &looks{Store: openSQLite(t)}
	v := newServer(t, l)
	now := time.Date(2027, 4, 17, 10, 0, 0, 0, time.UTC)
	v.now = func() time.Time { return now }
	sweep := func(long time.Duration) {
		t.Helper()
		for range long / every {
			if err := v.Sweep(t.Context(), harbour); err != nil {
				t.Fatal(err)
			}
			now = now.Add(every)
		}
	}
	chunks := cut("late", steadyTrain(300), trace.Totals{}, 100, 200)
	put := func(c trace.Chunk) {
		t.Helper()
		if _, err := l.PutChunk(t.Context(), harbour, c.Pack()); err != nil {
			t.Fatal(err)
		}
	}
	put(chunks[0])
	put(chunks[2]) // through another server: this one has seen no end
	sweep(10 * time.Minute)
	v.take(t, chunks[0])
	before := l.n
	sweep(every)
	if l.n != before {
		t.Error("a chunk that came before has the run read again")
	}
	put(chunks[1])
	sweep(10 * time.Minute)
	if n := v.club(t).Runs.Len(); n != 1 {
		t.Errorf("%d runs are recorded within as long as it was waited", n)
	}

	again := cut("later", steadyTrain(300), trace.Totals{}, 100, 200)
	put(again[0])
	put(again[2])
	before = l.n
	sweep(48 * time.Hour)
	if n := l.n - before; n < 40 || n > 70 {
		t.Errorf("an incomplete run was read %d times in two days", n)
	}
	v.take(t, again[1])
	sweep(every)
	if n := v.club(t).Runs.Len(); n != 2 {
		t.Errorf("%d runs are recorded at the sweep after the last chunk", n)
	}
}
