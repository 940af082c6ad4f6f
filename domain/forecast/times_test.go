package forecast

import (
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// TestBenchesAndCars looks at every moment of random days: no more benches are used than
// there are, no car runs twice at once or before it has rested, no round that depends on
// another begins before that is over and its wait has passed, and all heats are run.
func TestBenchesAndCars(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := Day{
			Closes:  1e6,
			Benches: rapid.IntRange(1, 8).Draw(t, "benches"), ChangeOver: 90, HeatSpread: 0.3,
			RerunRate: rapid.Float64Range(0, 0.3).Draw(t, "rerun"),
			Rest:      rapid.SampledFrom([]float64{0, 200}).Draw(t, "rest"),
			Wait:      rapid.SampledFrom([]float64{0, 300}).Draw(t, "wait"),
		}
		fields := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) raced {
			cars := rapid.IntRange(2, 12).Draw(t, "cars")
			f := startFrom(cars)
			for number := range rapid.IntRange(1, 4).Draw(t, "rounds") {
				r := round{stage: 1, number: number + 1, race: 60, apart: number > 0 && rapid.Bool().Draw(t, "apart")}
				width := rapid.IntRange(1, 5).Draw(t, "width")
				order := rapid.Permutation(upTo(cars)).Draw(t, "order")
				for len(order) > 0 {
					n := min(width, len(order))
					r.heats = append(r.heats, heat{cars: order[:n], races: rapid.IntRange(1, 3).Draw(t, "races")})
					order = order[n:]
				}
				f.rounds = append(f.rounds, r)
			}
			return f
		}), 1, 3).Draw(t, "fields")
		heats := 0
		for _, f := range fields {
			for _, r := range f.rounds {
				heats += len(r.heats)
			}
		}
		seen := newWitness(t, day.newTimes(fields, rand.New(rand.NewPCG(1, 2))))
		if end := seen.run(); end != seen.latest || seen.heats < heats {
			t.Fatalf("the day ends at %g, its last heat at %g; %d of %d heats were run", end, seen.latest, seen.heats, heats)
		}
	})
}

func upTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// witness runs a day step by step and writes down who is where.
type witness struct {
	*times
	t      *rapid.T
	until  map[[2]int]float64 // of each car, by division: its last end
	closed []map[int]float64  // by division: the last end in each round
	latest float64
	heats  int
}

func newWitness(t *rapid.T, of *times) *witness {
	w := &witness{times: of, t: t, until: map[[2]int]float64{}}
	for range of.lines {
		w.closed = append(w.closed, map[int]float64{})
	}
	return w
}

func (w *witness) run() float64 {
	for {
		for {
			before := len(w.running)
			if !w.call() {
				break
			}
			w.look(w.running[before])
		}
		used := 0
		for _, o := range w.running {
			used += o.benches
		}
		if used > w.day.Benches || used != w.day.Benches-w.free {
			w.t.Fatalf("%d of %d benches are used, and %d are said to be free", used, w.day.Benches, w.free)
		}
		if !w.wait() {
			return w.last
		}
	}
}

// look judges a heat that was called now.
func (w *witness) look(o onBench) {
	w.heats++
	w.latest = max(w.latest, o.ends)
	for _, car := range o.cars {
		key := [2]int{o.line, car}
		if last, ran := w.until[key]; ran && w.now < last+w.day.Rest {
			w.t.Fatalf("car %d of division %d starts at %g and ran until %g", car, o.line, w.now, last)
		}
		w.until[key] = o.ends
	}
	if r := w.lines[o.line].rounds[o.round]; o.round > 0 && !r.apart {
		for before := range o.round {
			if last := w.closed[o.line][before]; w.now < last+w.day.Wait {
				w.t.Fatalf("round %d starts at %g, round %d ends at %g", o.round+1, w.now, before+1, last)
			}
		}
	}
	w.closed[o.line][o.round] = max(w.closed[o.line][o.round], o.ends)
}
