package fairness

import (
	"math"
	"math/rand/v2"
	"testing"
)

// slowing makes a run that loses a part of its speed between the middles of its
// outer thirds, a sample each 0.2 s for a minute.
func slowing(lost, scatter, wobble float64, seed uint64) (times, speeds []float64) {
	random := rand.New(rand.NewPCG(seed, 7))
	for i := range 301 {
		at := float64(i) * 0.2
		speed := 4 * (1 - lost*(at-10)/40) * (1 + scatter*random.NormFloat64() + wobble*math.Sin(at*2.3))
		times, speeds = append(times, at), append(speeds, speed)
	}
	return times, speeds
}

func TestFitSlowing(t *testing.T) {
	for _, lost := range []float64{0, 0.02, 0.1, -0.03} {
		times, speeds := slowing(lost, 0, 0, 0)
		got, err := FitSlowing(times, speeds)
		if err != nil || math.Abs(got.Lost-lost) > 1e-9 || got.U > 1e-9 {
			t.Errorf("without scatter a loss of %g is %+v, %v", lost, got, err)
		}
	}
	t.Run("a stumble of a tenth of the run does not move it", func(t *testing.T) {
		times, speeds := slowing(0.05, 0.005, 0, 1)
		for i := 250; i < 280; i++ {
			speeds[i] /= 2
		}
		got, err := FitSlowing(times, speeds)
		if err != nil || math.Abs(got.Lost-0.05) > 0.005 {
			t.Errorf("got %+v, %v", got, err)
		}
	})
	t.Run("of 1000 runs 95 in 100 lie within twice the uncertainty", func(t *testing.T) {
		within := 0
		for seed := range uint64(1000) {
			times, speeds := slowing(0.04, 0.02, 0.01, seed)
			got, err := FitSlowing(times, speeds)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Lost-0.04) <= 1.96*got.U {
				within++
			}
		}
		if within < 930 || within > 985 {
			t.Errorf("%d of 1000", within)
		}
	})
	for name, n := range map[string]int{"no samples": 0, "too few": 20} {
		t.Run(name, func(t *testing.T) {
			times, speeds := slowing(0, 0, 0, 0)
			if got, err := FitSlowing(times[:n], speeds[:n]); err == nil {
				t.Errorf("got %+v", got)
			}
		})
	}
}
