package measure

import (
	"testing"

	"benchmeet/domain/simulate"
)

// sixMinutes is a usual run of six minutes with a few faults.
func sixMinutes(rpm float64) []int64 {
	return simulate.Run(simulate.Usual(simulate.Key(1, "benchmark"), rpm, 360)).Stamps
}

// trivial is the least that one could call a tracker: a fixed lock-out, a
// simple repair of gaps and a count of laps, which are no whole number of turns. It
// is what measuring is compared with.
type trivial struct {
	last, period, turns, laps int64
	nextLap                   float64
}

// addAll takes a train as Tracker.AddAll does, in a call of its own: put into the
// loop of the benchmark, its speed changes by half with where that loop lies.
//
//go:noinline
func (t *trivial) addAll(stamps []int64) {
	const lapTurns = 20_000 / 94.25
	for _, at := range stamps {
		gap := at - t.last
		if gap < 1500 {
			continue
		}
		n := int64(1)
		if t.period > 0 && gap > t.period+t.period/2 {
			n = (gap + t.period/2) / t.period
		} else {
			t.period = gap
		}
		t.last = at
		t.turns += n
		if float64(t.turns) >= t.nextLap {
			t.laps++
			t.nextLap += lapTurns
		}
	}
}

// BenchmarkStamps compares what a stamp costs when it is read, followed by the
// trivial tracker, and measured. One operation is one stamp.
func BenchmarkStamps(b *testing.B) {
	stamps := sixMinutes(9000)
	b.Run("read", func(b *testing.B) {
		sum, i := int64(0), 0
		for n := b.N; n > 0; n-- {
			if i++; i == len(stamps) {
				i = 0
			}
			sum += stamps[i]
		}
		if sum == 0 {
			b.Fatal("no stamps")
		}
	})
	b.Run("trivial", func(b *testing.B) {
		b.ReportAllocs()
		turns := int64(0)
		for n := b.N; n > 0; n -= len(stamps) {
			var t trivial
			t.addAll(stamps[:min(n, len(stamps))])
			turns += t.turns + t.laps
		}
		if turns == 0 {
			b.Fatal("no turns")
		}
	})
	b.Run("measure", func(b *testing.B) {
		tracker, err := New(Setup{Bench: Bench{CircumferenceMM: 94.25}, Race: Race{LapM: 20}})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportAllocs()
		for n := b.N; n > 0; n -= len(stamps) {
			tracker.Reset()
			tracker.AddAll(stamps[:min(n, len(stamps))])
		}
	})
}

// BenchmarkTwoMarks measures a roller with two marks that do not stand opposite, whose
// places are learnt. One operation is one stamp.
func BenchmarkTwoMarks(b *testing.B) {
	p := simulate.Usual(simulate.Key(1, "benchmark"), 9000, 360)
	p.MarkAngles = []float64{0, 186}
	stamps := simulate.Run(p).Stamps
	tracker, err := New(Setup{Bench: Bench{CircumferenceMM: 94.25, MarksPerTurn: 2}})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for n := b.N; n > 0; n -= len(stamps) {
		tracker.Reset()
		tracker.AddAll(stamps[:min(n, len(stamps))])
	}
}

// BenchmarkRun measures a whole run of six minutes, with the result.
func BenchmarkRun(b *testing.B) {
	for _, rpm := range []float64{9000, 20_000} {
		stamps := sixMinutes(rpm)
		b.Run(map[float64]string{9000: "9000rpm", 20_000: "20000rpm"}[rpm], func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Measure(Setup{Bench: Bench{CircumferenceMM: 94.25}}, stamps); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(stamps)), "ns/stamp")
		})
	}
}

// BenchmarkNoise measures stamps without any order, which cost most.
func BenchmarkNoise(b *testing.B) {
	r := simulate.Source(4)
	stamps := make([]int64, 10_000)
	at := int64(0)
	for i := range stamps {
		at += 1000 + int64(r.ExpFloat64()*20_000)
		stamps[i] = at
	}
	for b.Loop() {
		if _, err := Measure(Setup{Bench: Bench{CircumferenceMM: 94.25}}, stamps); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(stamps)), "ns/stamp")
}
