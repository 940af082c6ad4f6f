package ledger_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/measure"
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

// longEvents is a club's log after some years: 250 evenings of 400 practice runs,
// armed and recorded.
const longEvents = 200_000

// longLog is such a log, made once in a run of the benchmarks: cars come by and by,
// every run is armed and then recorded.
var longLog = sync.OnceValue(func() []journal.Record {
	records := make([]journal.Record, 0, longEvents)
	var head journal.Head
	for n := range longEvents {
		var e club.Event = practised(n / 2)
		switch {
		case n%1000 == 0:
			e = club.CarRegistered(register(n/1000 + 1).Command.(club.RegisterCar))
		case n%2 == 0:
			e = club.PracticeArmed{Bench: "b1", Run: practised(n / 2).ID, Car: "car-1", RaceUS: 60_000_000, By: "organiser"}
		}
		r, err := sealed(head, n, e)
		if err != nil {
			panic(err)
		}
		head, records = r.Head(), append(records, r)
	}
	return records
})

// writeLong writes the first events of the long log.
func writeLong(b *testing.B, s store.Store, events int) {
	b.Helper()
	for part := range slices.Chunk(longLog()[:events], 20_000) {
		must(b, s.Write(b.Context(), clubStream, func(tx store.Tx) error { return tx.Append(b.Context(), part) }))
	}
}

// BenchmarkReplay loads a stream of 200,000 events in one op. The floor is the same
// events only read from the store, in turn with it: x-read is the time as a
// multiple of that, 2 at the most where two cores are free. The start is with a
// state that was kept, and a log that ended there.
func BenchmarkReplay(b *testing.B) {
	for _, d := range databases {
		s := opened(b, d.new(b))
		writeLong(b, s, longEvents)
		load := func(b *testing.B, o ledger.Options) {
			l := ledger.New(ledger.Clubs(), o)
			if now(b, l).Head.Seq != longEvents {
				b.Fatal("it is not all there")
			}
			l.Settle()
			l.Close()
		}
		load(b, ledger.Options{Logs: s, Caches: s}) // keeps the state
		for _, c := range []struct {
			name string
			o    ledger.Options
		}{{"replay", ledger.Options{Logs: s}}, {"start", ledger.Options{Logs: s, Caches: s}}} {
			b.Run(d.name+"/"+c.name, func(b *testing.B) {
				var took, read time.Duration
				for range b.N {
					runtime.GC() // neither pays for the other's memory
					began := time.Now()
					load(b, c.o)
					took += time.Since(began)
					runtime.GC()
					began = time.Now()
					must(b, s.Read(b.Context(), clubStream, 0, func(journal.Record) error { return nil }))
					read += time.Since(began)
				}
				b.ReportMetric(float64(took.Nanoseconds())/float64(b.N), "ns/op")
				b.ReportMetric(float64(b.N*longEvents)/took.Seconds(), "events/s")
				b.ReportMetric(float64(b.N*longEvents)/read.Seconds(), "read-events/s")
				b.ReportMetric(took.Seconds()/read.Seconds(), "x-read")
			})
		}
		must(b, s.Close())
	}
}

// BenchmarkOrderOnLongStream is a practice run recorded on a stream of 200,000
// events. The floor is the same on a stream of 100, in turn with it: x-short is the
// median time as a multiple of that, 1.2 at the most.
func BenchmarkOrderOnLongStream(b *testing.B) {
	const shortEvents = 100
	for _, d := range databases {
		long, short := opened(b, d.new(b)), opened(b, d.new(b))
		writeLong(b, long, longEvents)
		writeLong(b, short, shortEvents)
		given := 0
		b.Run(d.name, func(b *testing.B) {
			onLong := newClubs(b, ledger.Options{Logs: long, Caches: long, Key: []byte("key")})
			onShort := newClubs(b, ledger.Options{Logs: short, Caches: short, Key: []byte("key")})
			now(b, onLong)
			now(b, onShort)
			onLong.Settle()
			timed := func(l *clubs) time.Duration {
				began := time.Now()
				do(b, l, practise(longEvents+given))
				return time.Since(began)
			}
			var longs, shorts []time.Duration
			b.ResetTimer()
			for range b.N {
				given++
				longs, shorts = append(longs, timed(onLong)), append(shorts, timed(onShort))
			}
			b.StopTimer()
			b.ReportMetric(float64(median(longs)), "ns/op")
			b.ReportMetric(float64(median(longs))/float64(median(shorts)), "x-short")
		})
		must(b, errors.Join(long.Close(), short.Close()))
	}
}

func median(all []time.Duration) time.Duration {
	slices.Sort(all)
	return all[len(all)/2]
}

// practised is a practice run with figures as a bench gives them.
func practised(n int) club.PracticeRecorded {
	return club.PracticeRecorded{
		ID: day.RunID(fmt.Sprintf("practice-b1-%d", n)), Bench: "b1", Car: "car-1",
		Boot: "0123456789abcdef", Trace: strings.Repeat("0123456789abcdef", 4),
		Figures: measure.Figures{
			Method: measure.Method, TurnsE6: 1_234_567_890, DistanceUM: 116_355_123, UDistanceUM: 25_000, U95DistanceUM: 50_000,
			Laps: 116, MeanMRPM: 9_876_543, MaxMRPM: 10_234_567, MeanUMPS: 15_500_123, UMeanUMPS: 3_400, MaxUMPS: 16_100_000,
			FromUS: 1_000_000, ToUS: 61_000_000, TimeUS: 60_000_000,
		},
	}
}

func sealed(head journal.Head, n int, e club.Event) (journal.Record, error) {
	data, err := json.Marshal(e)
	if err != nil {
		return journal.Record{}, err
	}
	return journal.Seal(head, journal.Envelope{
		Stream: clubStream.String(), Seq: head.Seq + 1, Type: e.Type(), V: club.VersionOf(e.Type()), Time: clockStart + int64(n),
		Actor: "organiser", Command: fmt.Sprintf("0190a0c0-0000-7000-8000-%012d", n), Data: data,
	})
}
