package dayplan

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"benchmeet/domain/day"
)

// TestBenchesAreReadyOneAfterAnother: of benches that are changed over at once the first is
// ready before the mean and the last after it, as simulated lengths are.
func TestBenchesAreReadyOneAfterAnother(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	const plays = 60_000
	for _, n := range []int{1, 2, 3, 6, mostBenches} {
		sums := make([]float64, n)
		for range plays {
			ready := make([]float64, n)
			for k := range ready {
				ready[k] = scatter(random, usual[changeKind].scatter)
			}
			slices.Sort(ready)
			for k, x := range ready {
				sums[k] += x / plays
			}
		}
		for k, want := range sums {
			if got := inTurnOf[n][k+1]; math.Abs(got-want) > 0.02 {
				t.Errorf("number %d of %d takes %.3f of the mean, simulated %.3f", k+1, n, got, want)
			}
		}
	}
}

// TestAHeatWaitsForTheLastOfItsBenches: four benches fell free at once; the first heat has
// the first two of them, the second the last two.
func TestAHeatWaitsForTheLastOfItsBenches(t *testing.T) {
	heat := func(benches ...day.BenchID) (h day.Heat) {
		for _, b := range benches {
			h.Lanes = append(h.Lanes, day.Lane{Bench: b})
		}
		return h
	}
	free, fell := map[day.BenchID]int64{"b1": 60, "b2": 60, "b3": 60, "b4": 60, "b5": 20}, map[int64]int{60: 4, 20: 1}
	first := lastOf(heat("b1", "b3"), 60, free, fell)
	if want := inTurnOf[4][2]; first != want {
		t.Errorf("the first two of four take %.3f, want %.3f", first, want)
	}
	free["b1"], free["b3"] = 300, 300 // raced since
	if got, want := lastOf(heat("b2", "b4"), 60, free, fell), inTurnOf[4][4]; got != want || got <= first {
		t.Errorf("the last two of four take %.3f, want %.3f", got, want)
	}
	if got := lastOf(heat("b5", "b2"), 20, free, fell); got < 0.99 || got > 1.01 {
		t.Errorf("one bench takes %.3f of its own mean", got)
	}
}
