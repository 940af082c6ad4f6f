package live

import (
	"context"
	"fmt"
	"log/slog"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/api/store/sqlite"
	"benchmeet/api/view"
	"benchmeet/api/view/viewtest"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// BenchmarkEvent is what one order of a race costs the machine, from the ledger over
// the database on disk to the frames in the slots of a listener to all topics of screens and benches: calls,
// cars made ready, starts and runs in turn, heat after heat, in a day with two rounds
// and a half behind it. cpu-ms is the processor's time for each, x-24 that as a multiple
// of the first day's in the same run; read-ms and x-24-read are the part in which the
// topics are computed, encoded and put into the slots.
func BenchmarkEvent(b *testing.B) {
	var floor, readFloor float64
	for _, c := range []struct{ divisions, entries int }{{1, 24}, {4, 24}, {8, 24}, {17, 24}, {1, 400}} {
		b.Run(fmt.Sprintf("divisions=%d/entries=%d", c.divisions, c.entries), func(b *testing.B) {
			hall := viewtest.NewHall(b, c.divisions, c.entries)
			h, stream := openHall(b, hall)
			room := newRoom(still{meetSource{h, stream, "spring"}}, slog.New(slog.DiscardHandler), 0)
			defer room.stop()
			topics := []string{"board", "meet"}
			for d := range hall.State.Divisions {
				topics = append(topics, "standings/"+string(d), "bracket/"+string(d))
			}
			for bench := range hall.State.Benches {
				topics = append(topics, "bench/"+string(bench))
			}
			l := enters(room, topics...)
			if err := room.admit(b.Context(), l); err != nil {
				b.Fatal(err)
			}
			orders := races(hall)
			var reading float64
			runtime.GC()
			began := processorMS(b)
			b.ResetTimer()
			for n := range b.N {
				c := orders()
				order := ledger.Order[meet.Command]{ID: fmt.Sprint("order-", n), Content: []byte{1}, Actor: "referee", Command: c}
				if _, err := h.Meets.Do(b.Context(), stream, order); err != nil {
					b.Fatal(err)
				}
				snapshot, err := h.Meets.At(b.Context(), stream, 0)
				if err != nil {
					b.Fatal(err)
				}
				hall.State = snapshot.State
				before := processorMS(b)
				room.refresh(b.Context())
				reading += processorMS(b) - before
				came(l)
			}
			b.StopTimer()
			each, read := (processorMS(b)-began)/float64(b.N), reading/float64(b.N)
			if c.divisions == 1 && c.entries == 24 {
				floor, readFloor = each, read
			}
			b.ReportMetric(each, "cpu-ms")
			b.ReportMetric(each/floor, "x-24")
			b.ReportMetric(read, "read-ms")
			b.ReportMetric(read/readFloor, "x-24-read")
		})
	}
}

// races gives order after order: a heat of the day that is still to be raced, and when
// all are raced, one that was posted is voided and raced again.
func races(hall *viewtest.Hall) func() meet.Command {
	var queue []func() meet.Command
	return func() meet.Command {
		if len(queue) == 0 {
			var posted day.HeatID
			for _, h := range hall.State.SortedHeats() {
				if h.Phase == day.PhaseDrawn {
					queue, posted = hall.Race(h.ID), ""
					break
				}
				if h.Phase == day.PhaseProvisional {
					posted = h.ID
				}
			}
			if posted != "" {
				queue = append(queue, func() meet.Command {
					return meet.VoidHeat{Heat: posted, Reason: day.Reason{Code: day.ReasonPower}}
				})
			}
		}
		next := queue[0]
		queue = queue[1:]
		return next()
	}
}

// still is a source that tells of no change: the benchmark refreshes by itself.
type still struct{ meetSource }

func (still) Watch() (<-chan struct{}, func()) { return nil, func() {} }

// openHall puts a day into a database on disk, with a nickname for everybody.
func openHall(b *testing.B, hall *viewtest.Hall) (*Hub, store.Stream) {
	b.Helper()
	s, err := sqlite.Open(b.Context(), filepath.Join(b.TempDir(), "meet.db"))
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = s.Close() })
	if err := s.EnsureClub(b.Context(), store.Club{ID: "harbour"}); err != nil {
		b.Fatal(err)
	}
	stream := store.MeetStream("harbour", "spring")
	err = s.Write(b.Context(), stream, func(tx store.Tx) error {
		for _, e := range hall.State.Entries {
			p := store.Person{ID: string(e.Entrant), DisplayName: fmt.Sprint("Comet ", e.StartNumber), OnScreen: true, InResults: true}
			if err := tx.PutPerson(b.Context(), p); err != nil {
				return err
			}
		}
		return tx.Append(b.Context(), hall.Records(stream.String()))
	})
	if err != nil {
		b.Fatal(err)
	}
	o := ledger.Options{Logs: s, Alone: true}
	meets, clubs := ledger.New(ledger.Meets(), o), ledger.New(ledger.Clubs(), o)
	b.Cleanup(meets.Close)
	b.Cleanup(clubs.Close)
	h := New(Options{Meets: meets, Clubs: clubs, Names: view.NewDirectory(s), Alone: true})
	b.Cleanup(h.Close)
	if _, err := meets.At(context.Background(), stream, 0); err != nil {
		b.Fatal(err)
	}
	return h, stream
}

// processorMS is the processor's time of this process so far, in ms.
func processorMS(b *testing.B) float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return float64(u.Utime.Sec+u.Stime.Sec)*1e3 + float64(u.Utime.Usec+u.Stime.Usec)/1e3
}
