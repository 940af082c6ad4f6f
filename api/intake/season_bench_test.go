package intake

import (
	"fmt"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/simulate"
	"benchmeet/domain/trace"
)

// BenchmarkSeason measures a season of runs again: 200 of a minute at 9,000 to
// 11,000 rpm, about two million stamps, from the stamps in memory, from their
// packed chunks, and from SQLite with the hash of each trace compared. One
// operation is the season; ns/stamp is what counts, the first being the floor.
func BenchmarkSeason(b *testing.B) {
	conditions := evidence.Conditions{Bench: evidence.Unregistered, LapUM: 1_000_000, RaceUS: 60_000_000}
	disk := openSQLite(b)
	v := newServer(b, disk)
	var (
		trains []trace.Train
		packed [][]trace.Stored
		runs   []day.Run
		stamps int
	)
	for i := range 200 {
		params := simulate.Usual(simulate.Key(uint64(i), "season"), 9000+float64(i*10), 60)
		train := trace.Train{Bench: "b1", Boot: boot, Run: fmt.Sprintf("run-%d", i), Stamps: simulate.Run(params).Stamps}
		chunks := chunksOf(train)
		for _, c := range chunks {
			if _, err := disk.PutChunk(b.Context(), harbour, c); err != nil {
				b.Fatal(err)
			}
		}
		joined, err := trace.Join(chunks)
		if err != nil {
			b.Fatal(err)
		}
		sum := joined.Hash()
		trains, packed, stamps = append(trains, joined), append(packed, chunks), stamps+len(joined.Stamps)
		runs = append(runs, day.Run{ID: day.RunID(joined.Run), Bench: "b1", Boot: boot, Source: day.SourceBench, Trace: fmt.Sprintf("%x", sum)})
	}
	measure := func(b *testing.B, t trace.Train) {
		if f, err := conditions.Measure(t, false); err != nil || f.DistanceUM == 0 {
			b.Fatalf("%s: %v %v", t.Run, f, err)
		}
	}
	each := func(b *testing.B, again func(i int)) {
		b.ReportAllocs()
		for b.Loop() {
			for i := range trains {
				again(i)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(stamps), "ns/stamp")
	}
	b.Run("memory", func(b *testing.B) { each(b, func(i int) { measure(b, trains[i]) }) })
	b.Run("packed", func(b *testing.B) {
		each(b, func(i int) {
			train, err := trace.Join(packed[i])
			if err != nil {
				b.Fatal(err)
			}
			measure(b, train)
		})
	})
	b.Run("sqlite", func(b *testing.B) {
		each(b, func(i int) {
			train, _, err := v.Train(b.Context(), harbour, runs[i])
			if err != nil {
				b.Fatal(err)
			}
			measure(b, train)
		})
	})
}

// chunksOf cuts a train as a counter box does, a second of stamps a chunk.
func chunksOf(t trace.Train) []trace.Stored {
	var out []trace.Stored
	const size = 160
	for from := 0; from < len(t.Stamps); from += size {
		c := trace.Chunk{
			Key: trace.Key{Bench: t.Bench, Boot: t.Boot, Run: t.Run, Number: len(out)}, Stamps: t.Stamps[from:min(from+size, len(t.Stamps))],
		}
		if from+size >= len(t.Stamps) {
			c.Last = &trace.Totals{Chunks: len(out) + 1, Stamps: len(t.Stamps)}
		}
		out = append(out, c.Pack())
	}
	return out
}
