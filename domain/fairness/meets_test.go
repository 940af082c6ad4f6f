package fairness_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"benchmeet/domain/fairness"
)

// hall is a made-up meet of which everything is known.
type hall struct {
	benches, cars, runs            int     // runs of each car
	benchSpread, carSpread, repeat float64 // standard deviations, relative
	everyBench                     bool    // each car runs on a different bench each time
	best                           bool    // the best run counts, else the mean
	fade                           float64 // what every car loses from run to run, relative
}

// raceDay is one simulated day: its runs, the true factors (with geometric mean 1)
// and the true levels of the cars, by their numbers.
type raceDay struct {
	runs    []fairness.Run
	factors []float64
	cars    []float64
}

// hold simulates a day. Each round the cars are shuffled and take the benches in
// turn; with everyBench a car moves on by one bench from round to round.
func (h hall) hold(seed uint64) raceDay {
	random := rand.New(rand.NewPCG(seed, 20250))
	m := raceDay{factors: make([]float64, h.benches), cars: make([]float64, h.cars)}
	total := 0.0
	for b := range m.factors {
		m.factors[b] = h.benchSpread * random.NormFloat64()
		total += m.factors[b]
	}
	for b := range m.factors {
		m.factors[b] = math.Exp(m.factors[b] - total/float64(h.benches))
	}
	for c := range m.cars {
		m.cars[c] = 230 * math.Exp(h.carSpread*random.NormFloat64())
	}
	for round := range h.runs {
		for i, c := range random.Perm(h.cars) {
			b := i % h.benches
			if h.everyBench {
				b = (c + round) % h.benches
			}
			m.runs = append(m.runs, fairness.Run{
				Bench: fmt.Sprintf("b%02d", b), Car: fmt.Sprintf("c%02d", c), At: float64(round), Round: fmt.Sprint(round),
				Value: m.cars[c] * m.factors[b] * math.Exp(h.repeat*random.NormFloat64()-h.fade*float64(round)),
			})
		}
	}
	return m
}

// podium returns the three best cars, best first.
func podium(levels []float64) []int {
	order := make([]int, len(levels))
	for c := range order {
		order[c] = c
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(levels[b], levels[a]) })
	return order[:3]
}

// results gives every car its mean or best run, each divided by what factor says
// of its bench.
func (h hall) results(m raceDay, factor func(bench int) float64) []float64 {
	out := make([]float64, h.cars)
	for _, r := range m.runs {
		var b, c int
		if _, err := fmt.Sscanf(r.Bench+r.Car, "b%dc%d", &b, &c); err != nil {
			panic(err)
		}
		v := r.Value / factor(b)
		if h.best {
			out[c] = max(out[c], v)
		} else {
			out[c] += v / float64(h.runs)
		}
	}
	return out
}

// Stated 95 % intervals of the factors, and of differences between cars, cover
// the truth in 93 to 97 % over 200 meets whose benches spread by 1 %.
func TestIntervalsCover(t *testing.T) {
	tests := []struct {
		name string
		hall hall
	}{
		{"24 cars, 6 benches, 4 runs", hall{benches: 6, cars: 24, runs: 4, benchSpread: 0.01, carSpread: 0.02, repeat: 0.003}},
		{"13 cars, 4 benches, 3 runs", hall{benches: 4, cars: 13, runs: 3, benchSpread: 0.01, carSpread: 0.02, repeat: 0.003}},
		{"40 cars, 10 benches, 4 runs", hall{benches: 10, cars: 40, runs: 4, benchSpread: 0.01, carSpread: 0.02, repeat: 0.003}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var factors, factorsIn, pairs, pairsIn int
			for seed := range uint64(200) {
				m := tt.hall.hold(seed)
				f, err := fairness.FitBenches(m.runs, fairness.Rounds)
				if err != nil {
					t.Fatal(err)
				}
				for b, bench := range f.Benches {
					factors++
					if bench.Low <= m.factors[b] && m.factors[b] <= bench.High {
						factorsIn++
					}
				}
				for c := 0; c+1 < tt.hall.cars; c += 2 {
					d, err := f.Difference(fmt.Sprintf("c%02d", c), fmt.Sprintf("c%02d", c+1))
					if err != nil {
						t.Fatal(err)
					}
					d.Value -= math.Log(m.cars[c] / m.cars[c+1])
					pairs++
					if d.TooClose(0.95) {
						pairsIn++
					}
				}
			}
			of := func(n, all int) float64 { return 100 * float64(n) / float64(all) }
			t.Logf(
				"factors: %.1f %% of %d intervals cover; differences of cars: %.1f %% of %d", of(factorsIn, factors), factors, of(pairsIn, pairs),
				pairs,
			)
			near(t, "cover of factors, per cent", of(factorsIn, factors), 95, 2)
			near(t, "cover of differences, per cent", of(pairsIn, pairs), 95, 2)
		})
	}
}

// With a car spread of 2 %, a repeat of 0.3 %, benches that spread by 1 % and
// four runs a car, dividing by the fitted factors halves the wrong podiums. The
// other rows say where it does not help; their bounds hold that too.
func TestCorrectingHalvesWrongPodiums(t *testing.T) {
	usual := hall{benches: 6, cars: 24, runs: 4, benchSpread: 0.01, carSpread: 0.02, repeat: 0.003}
	with := func(change func(h *hall)) hall {
		h := usual
		change(&h)
		return h
	}
	tests := []struct {
		name        string
		hall        hall
		least, most float64 // wrong sets of three after correcting, over those before
	}{
		{"the mean counts", usual, 0, 0.5},
		{"the best run counts: not quite half, as the best run has luck of its own", with(func(h *hall) { h.best = true }), 0, 0.6},
		{"10 benches, 40 cars", with(func(h *hall) { h.benches, h.cars = 10, 40 }), 0, 0.5},
		{"two runs a car", with(func(h *hall) { h.runs = 2 }), 0, 0.5},
		{"each car on each of 4 benches, mean: nothing to win", with(func(h *hall) { h.benches, h.everyBench = 4, true }), 0.9, 1.1},
		{"alike benches: noise is added", with(func(h *hall) { h.benchSpread = 0 }), 1, 1.6},
		{"rough repeats of 2 %: little to win", with(func(h *hall) { h.repeat = 0.02 }), 0.8, 1.1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			const meets = 200
			var before, after, ideal, orderBefore, orderAfter, orderIdeal, advised int
			for seed := range uint64(meets) {
				m := tt.hall.hold(seed)
				f, err := fairness.FitBenches(m.runs, fairness.Rounds)
				if err != nil {
					t.Fatal(err)
				}
				truth := podium(m.cars)
				raw := podium(tt.hall.results(m, func(int) float64 { return 1 }))
				corrected := podium(tt.hall.results(m, func(b int) float64 { return f.Benches[b].Factor }))
				known := podium(tt.hall.results(m, func(b int) float64 { return m.factors[b] }))
				if f.Worthwhile() {
					advised++
				}
				for _, c := range []struct {
					got        []int
					set, order *int
				}{{raw, &before, &orderBefore}, {corrected, &after, &orderAfter}, {known, &ideal, &orderIdeal}} {
					if !slices.Equal(c.got, truth) {
						*c.order++
					}
					if !slices.Equal(slices.Sorted(slices.Values(c.got)), slices.Sorted(slices.Values(truth))) {
						*c.set++
					}
				}
			}
			t.Logf("of %d meets wrong: three cars %d -> %d (%d with the true factors), their order %d -> %d (%d); correcting advised in %d",
				meets, before, after, ideal, orderBefore, orderAfter, orderIdeal, advised)
			if ratio := float64(after) / float64(before); ratio < tt.least || ratio > tt.most {
				t.Errorf("wrong podiums went from %d to %d, to %.2f of them; want %.2f to %.2f", before, after, ratio, tt.least, tt.most)
			}
		})
	}
}
