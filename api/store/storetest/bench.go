package storetest

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// Benchmark measures how fast the stores of a database write and read.
//
// Beside each writing speed stands what the drive needs, in the same run, to
// write the same bytes to a plain file and sync it: sync-ns, and x-sync, the
// store's time as a multiple of it. A multiple travels between machines where
// a time does not. More writers at once may come below 1, for they share syncs.
func Benchmark(b *testing.B, d Database) {
	b.Run("WriteOneAtATime", func(b *testing.B) { benchmarkWrite(b, d, 1) })
	b.Run("Write64Writers", func(b *testing.B) { benchmarkWrite(b, d, 64) })
	b.Run("Read", func(b *testing.B) { benchmarkRead(b, d) })
}

// benchmarkWrite writes b.N events, one a Write, from writers on streams of
// their own.
func benchmarkWrite(b *testing.B, d Database, writers int) {
	ctx, s := fresh(b, d)
	var (
		next atomic.Int64
		done sync.WaitGroup
		size atomic.Int64
	)
	for w := range writers { // connections are opened before the clock runs
		must(b, grow(ctx, s, store.MeetStream(harbour, numbered("meet", w)), 1, "first"))
	}
	b.ResetTimer()
	for w := range writers {
		stream := store.MeetStream(harbour, numbered("meet", w))
		done.Go(func() {
			head := sealed(stream, journal.Head{}, 1, "first")[0].Head()
			for next.Add(1) <= int64(b.N) {
				records := sealed(stream, head, 1, "measured")
				if err := s.Write(ctx, stream, func(tx store.Tx) error { return tx.Append(ctx, records) }); err != nil {
					b.Error(err)
					return
				}
				head = records[0].Head()
				size.Store(int64(len(records[0].Bytes)))
			}
		})
	}
	done.Wait()
	b.StopTimer()
	each := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
	floor := syncTime(b, int(size.Load()))
	b.ReportMetric(1e9/each, "events/s")
	b.ReportMetric(floor, "sync-ns")
	b.ReportMetric(each/floor, "x-sync")
}

// syncTime is the mean time in ns to append that many bytes to a file and sync
// it.
func syncTime(b *testing.B, size int) float64 {
	b.Helper()
	file, err := os.Create(filepath.Join(b.TempDir(), "floor"))
	must(b, err)
	defer func() { _ = file.Close() }()
	content := make([]byte, size)
	tries := min(max(b.N, 20), 500)
	began := time.Now()
	for range tries {
		_, err := file.Write(content)
		must(b, err)
		must(b, file.Sync())
	}
	return float64(time.Since(began).Nanoseconds()) / float64(tries)
}

// benchmarkRead reads a log of some length over and over; an op is one event.
func benchmarkRead(b *testing.B, d Database) {
	const n = 20_000
	ctx, s := fresh(b, d)
	stream := store.MeetStream(harbour, "spring")
	must(b, grow(ctx, s, stream, n, "read"))
	b.ResetTimer()
	for left := b.N; left > 0; {
		err := s.Read(ctx, stream, 0, func(journal.Record) error {
			if left--; left == 0 {
				return errUndo
			}
			return nil
		})
		if err != nil && left > 0 {
			b.Fatal(fmt.Errorf("with %d events left: %w", left, err))
		}
	}
	b.StopTimer()
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "events/s")
}
