package ledger_test

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/postgres/pgtest"
	"benchmeet/tools/rows"
)

// How BenchmarkAppend measures: program and floor in turn.
const (
	appendTurns = 5
	appendFor   = 700 * time.Millisecond // a turn of each
)

// BenchmarkAppend is how many orders a second are on disk, an event and a receipt each,
// as a multiple of programs that write the same rows in the same settings and do nothing
// else (tools/rows): one order at a time on SQLite beside transactions of one row; 64
// writers there beside transactions of 64 pairs of rows, and beside one writer; and on
// PostgreSQL 64 writers to 16 logs beside a program with a queue a log and one trip.
// x is the median, least and most of five turns in one run. x-work is the same of the
// processor's time that this process needs for an order, by the median.
//
// It measures so much whatever -benchtime says.
func BenchmarkAppend(b *testing.B) {
	b.Run("sqlite/writers=1", func(b *testing.B) {
		s, floor := opened(b, newSQLite(b)), bareSQLite(b)
		compare(b, ordersOf(b, s, 1, 1), writing(b, 1, func(int) error { return floor.Write(b.Context(), 1, false) }), 1)
	})
	b.Run("sqlite/writers=64", func(b *testing.B) {
		s, floor := opened(b, newSQLite(b)), bareSQLite(b)
		compare(b, ordersOf(b, s, 64, 1), writing(b, 1, func(int) error { return floor.Write(b.Context(), 64, true) }), 64)
	})
	b.Run("sqlite/writers=64/beside=1", func(b *testing.B) {
		many, one := opened(b, newSQLite(b)), opened(b, newSQLite(b))
		compare(b, ordersOf(b, many, 64, 1), ordersOf(b, one, 1, 1), 1)
	})
	b.Run("postgres/writers=64/logs=16", func(b *testing.B) {
		s := opened(b, newPostgres(b))
		floor, err := rows.OpenPostgres(b.Context(), pgtest.Database(b), 16)
		must(b, err)
		b.Cleanup(floor.Close)
		compare(b, ordersOf(b, s, 64, 16), writing(b, 64, func(w int) error { return floor.Write(b.Context(), w%16) }), 1)
	})
}

func bareSQLite(b *testing.B) *rows.SQLite {
	s, err := rows.OpenSQLite(b.Context(), filepath.Join(b.TempDir(), "bare.db"))
	must(b, err)
	b.Cleanup(func() { _ = s.Close() })
	return s
}

// turn works for a while and says how much was done.
type turn func(until time.Time) int64

// writing has writers do something over and over.
func writing(b *testing.B, writers int, do func(writer int) error) turn {
	return func(until time.Time) int64 {
		var done atomic.Int64
		var all sync.WaitGroup
		for w := range writers {
			all.Go(func() {
				for time.Now().Before(until) {
					if err := do(w); err != nil {
						b.Error(err)
						return
					}
					done.Add(1)
				}
			})
		}
		all.Wait()
		return done.Load()
	}
}

// ordersOf has writers give orders to the logs of so many clubs.
func ordersOf(b *testing.B, s store.Store, writers, logs int) turn {
	o := ledger.Options{Logs: s, Key: []byte("key"), Alone: logs == 1}
	if shared, is := s.(store.Fleet); is { // as a server on it, which looks with each order whether another came in
		known := &knowing{store: shared}
		must(b, known.Look(b.Context()))
		o.Fleet = known
	}
	l := newClubs(b, o)
	var streams []store.Stream
	for n := range logs {
		club := fmt.Sprint("club-", n)
		must(b, s.EnsureClub(b.Context(), store.Club{ID: club}))
		streams = append(streams, store.ClubStream(club))
		_, err := l.Do(b.Context(), streams[n], register(2))
		must(b, err)
	}
	var next atomic.Int64
	return writing(b, writers, func(writer int) error {
		n := int(next.Add(1))
		_, err := l.Do(context.Background(), streams[writer%logs], wheel(0, n))
		return err
	})
}

// compare takes turns and reports what the program does for each thing of the floor,
// which does so many at once.
func compare(b *testing.B, program, floor turn, atOnce int64) {
	var speeds, works []float64
	for n := range appendTurns + 1 {
		speed, work := measured(b, program, 1)
		floorSpeed, floorWork := measured(b, floor, atOnce)
		if n > 0 { // the first warms up
			speeds, works = append(speeds, speed/floorSpeed), append(works, work/floorWork)
			b.Logf("turn %d: %.0f orders/s, %.0f us of the processor each; the floor %.0f, %.0f us", n, speed, work, floorSpeed, floorWork)
		}
	}
	slices.Sort(speeds)
	slices.Sort(works)
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(speeds[appendTurns/2], "x")
	b.ReportMetric(speeds[0], "x-least")
	b.ReportMetric(speeds[appendTurns-1], "x-most")
	b.ReportMetric(works[appendTurns/2], "x-work")
}

// measured is one turn: how many a second, and the processor's time for each in us.
func measured(b *testing.B, do turn, atOnce int64) (speed, work float64) {
	before, began := processorUS(b), time.Now()
	done := float64(do(began.Add(appendFor)) * atOnce)
	return done / time.Since(began).Seconds(), (processorUS(b) - before) / done
}

// processorUS is the processor's time of this process so far.
func processorUS(b *testing.B) float64 {
	var u syscall.Rusage
	must(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return float64(u.Utime.Sec+u.Stime.Sec)*1e6 + float64(u.Utime.Usec+u.Stime.Usec)
}
