package ledger_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
	"benchmeet/domain/meet"
)

// BenchmarkOrder is how many orders a second one stream takes, an event each: one
// writer that waits for each answer, and 64 at once.
//
// Beside the speed stands what the drive needs in the same run to write the same
// bytes to a plain file and sync it: sync-ns, and x-sync, the ledger's time for
// an order as a multiple of it. 64 writers come far below 1, for they share
// transactions.
func BenchmarkOrder(b *testing.B) {
	for _, d := range databases {
		for _, writers := range []struct {
			name string
			n    int
		}{{"1", 1}, {"64", 64}} {
			b.Run(d.name+"/writers="+writers.name, func(b *testing.B) {
				s := opened(b, d.new(b))
				l := newClubs(b, ledger.Options{Logs: s, Key: []byte("key")})
				do(b, l, register(1))
				b.ResetTimer()
				var next atomic.Int64
				var all sync.WaitGroup
				for range writers.n {
					all.Go(func() {
						for n := next.Add(1); n <= int64(b.N); n = next.Add(1) {
							if _, err := l.Do(context.Background(), clubStream, wheel(b.N, int(n))); err != nil {
								b.Error(err)
								return
							}
						}
					})
				}
				all.Wait()
				b.StopTimer()
				each := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
				floor := syncTime(b)
				b.ReportMetric(1e9/each, "orders/s")
				b.ReportMetric(floor, "sync-ns")
				b.ReportMetric(each/floor, "x-sync")
			})
		}
	}
}

// wheel is the n-th order of a run of b.N: one event.
func wheel(run, n int) order {
	return order{
		ID: fmt.Sprintf("order-%d-%d", run, n), Content: fmt.Append(nil, n), Actor: "organiser",
		Command: club.RegisterCar{Car: club.Car{ID: "car-2", Number: 2, WheelUM: int64(n)%1_000_000 + 1}},
	}
}

// syncTime is the mean time in ns to append 300 bytes, as an event has, to a file
// and sync it.
func syncTime(b *testing.B) float64 {
	b.Helper()
	file, err := os.Create(filepath.Join(b.TempDir(), "floor"))
	must(b, err)
	defer func() { _ = file.Close() }()
	const tries = 200
	began := time.Now()
	for range tries {
		_, err := file.Write(make([]byte, 300))
		must(b, err)
		must(b, file.Sync())
	}
	return float64(time.Since(began).Nanoseconds()) / tries
}

// BenchmarkReplay loads a stream of 20,000 events, nine practice runs in ten, in
// one op. The floor is the same events only read from the store, in the same run:
// x-read is the time as a multiple of that.
func BenchmarkReplay(b *testing.B) {
	const events = 20_000
	for _, d := range databases {
		b.Run(d.name, func(b *testing.B) {
			s := opened(b, d.new(b))
			writeLong(b, s, events)
			b.ResetTimer()
			for range b.N {
				l := ledger.New(ledger.Clubs(), ledger.Options{Logs: s})
				if now(b, l).Head.Seq != events {
					b.Fatal("it is not all there")
				}
				l.Close()
			}
			b.StopTimer()
			each := b.Elapsed().Seconds() / float64(b.N*events)
			began := time.Now()
			for range b.N {
				must(b, s.Read(b.Context(), clubStream, 0, func(journal.Record) error { return nil }))
			}
			floor := time.Since(began).Seconds() / float64(b.N*events)
			b.ReportMetric(1/each, "events/s")
			b.ReportMetric(1/floor, "read-events/s")
			b.ReportMetric(each/floor, "x-read")
		})
	}
}

// BenchmarkOrderOnLongStream is one order on a stream of 20,000 events: what the
// copy of a large state costs beside the sync.
func BenchmarkOrderOnLongStream(b *testing.B) {
	for _, d := range databases {
		b.Run(d.name, func(b *testing.B) {
			s := opened(b, d.new(b))
			writeLong(b, s, 20_000)
			l := newClubs(b, ledger.Options{Logs: s, Key: []byte("key")})
			now(b, l)
			b.ResetTimer()
			for n := range b.N {
				do(b, l, wheel(b.N, n+1))
			}
		})
	}
}

// writeLong writes a long stream in one transaction.
func writeLong(b *testing.B, s store.Store, events int) {
	b.Helper()
	model := ledger.Clubs()
	must(b, s.Write(b.Context(), clubStream, func(tx store.Tx) error {
		var head journal.Head
		var records []journal.Record
		for n := range events {
			var e club.Event = practised(n)
			if n%10 == 0 {
				e = club.CarRegistered(register(n/10 + 1).Command.(club.RegisterCar))
			}
			r, err := sealed(head, model.Version, n, e)
			if err != nil {
				return err
			}
			head, records = r.Head(), append(records, r)
		}
		return tx.Append(b.Context(), records)
	}))
}

// practised is a practice run with figures as a bench gives them.
func practised(n int) club.PracticeRecorded {
	return club.PracticeRecorded{
		ID: meet.RunID(fmt.Sprintf("practice-b1-%d", n)), Bench: "b1", Car: "car-1",
		Boot: "0123456789abcdef", Trace: strings.Repeat("0123456789abcdef", 4),
		Figures: measure.Figures{
			Method: measure.Method, TurnsE6: 1_234_567_890, DistanceUM: 116_355_123, UDistanceUM: 25_000, U95DistanceUM: 50_000,
			Laps: 116, MeanMRPM: 9_876_543, MaxMRPM: 10_234_567, MeanUMPS: 15_500_123, UMeanUMPS: 3_400, MaxUMPS: 16_100_000,
			FromUS: 1_000_000, ToUS: 61_000_000, TimeUS: 60_000_000,
		},
	}
}

func sealed(head journal.Head, version, n int, e club.Event) (journal.Record, error) {
	data, err := json.Marshal(e)
	if err != nil {
		return journal.Record{}, err
	}
	return journal.Seal(head, journal.Envelope{
		Stream: clubStream.String(), Seq: head.Seq + 1, Type: e.Type(), V: version, Time: clockStart + int64(n),
		Actor: "organiser", Command: fmt.Sprintf("0190a0c0-0000-7000-8000-%012d", n), Data: data,
	})
}
