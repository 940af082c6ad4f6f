package measure

import (
	"math"
	"sync"
	"testing"

	"benchmeet/domain/simulate"
)

// randomTrain draws the parameters of train i: six minutes, up to 5 % doubles
// and 2 % isolated misses, 3,000 to 20,000 rpm.
func randomTrain(i int) simulate.Params {
	key := simulate.Key(2026, "statistics", string(rune('0'+i%10)), string(rune(i)))
	r := simulate.Source(key)
	p := simulate.Usual(key, 3000+17_000*r.Float64()*r.Float64(), 360)
	p.TauS = 0.2 + 0.6*r.Float64()
	p.ReactionS = 0.3 * r.Float64()
	p.DoubleRate = 0.03 * r.Float64()
	p.TrailRate = 0.02 * r.Float64()
	p.MissRate = 0.02 * r.Float64()
	p.Wander = 0.003 + 0.005*r.Float64()
	p.Ripple = 0.002 + 0.004*r.Float64()
	p.WheelRatio = 0.8 + 0.8*r.Float64()
	p.SagFast, p.SagPerS = 0.05*r.Float64(), 0.0005*r.Float64()
	return p
}

// inParallel calls f for 0 to n-1 on two goroutines. The order does not matter,
// as every train has a key of its own.
func inParallel(n int, f func(i int)) {
	var wg sync.WaitGroup
	for worker := range 2 {
		wg.Go(func() {
			for i := worker; i < n; i += 2 {
				f(i)
			}
		})
	}
	wg.Wait()
}

func TestThousandTrains(t *testing.T) {
	const n = 1000
	type outcome struct {
		clean         bool
		off           float64
		top, distance float64
		rel           float64
		covered       bool
	}
	outcomes := make([]outcome, n)
	inParallel(n, func(i int) {
		p := randomTrain(i)
		train := simulate.Run(p)
		setup := Setup{Bench: Bench{CircumferenceMM: 94.25}}
		m, err := Measure(setup, train.Stamps)
		if err != nil {
			t.Error(err)
			return
		}
		start, duration := p.StartUS, p.DurationS
		setup.Race = Race{StartUS: &start, DurationS: &duration}
		race, err := Measure(setup, train.Stamps)
		if err != nil {
			t.Error(err)
			return
		}
		truth := train.Truth
		outcomes[i] = outcome{
			clean: truth.FirstFault < 0 || truth.FirstFault >= 5 && truth.LastFault < truth.Total-2,
			off:   m.Turns - float64(truth.Passes), top: m.MaxRPM / truth.MaxRPM,
			distance: race.Turns - truth.Turns, rel: (race.Turns - truth.Turns) * 94.25 / 1000 / race.Distance.Standard,
			covered: math.Abs(race.DistanceM-truth.DistanceM) <= race.Distance.Half,
		}
	})
	clean, wrong, off, high, covered := 0, 0, 0, 0, 0
	var sum, sum2 float64
	for i, o := range outcomes {
		if o.clean {
			clean++
			if o.off != 0 {
				wrong++
				t.Logf("train %d off by %v", i, o.off)
			}
		} else if math.Abs(o.off) > 1 {
			off++
			t.Logf("faulty train %d off by %v", i, o.off)
		}
		if o.top > 1.01 {
			high++
			t.Logf("train %d top %v", i, o.top)
		}
		if o.covered {
			covered++
		}
		if math.Abs(o.distance) < 0.7 {
			sum += o.distance
			sum2 += o.distance * o.distance
		} else {
			t.Logf("train %d race off by %v", i, o.distance)
		}
	}
	t.Logf("clean %d wrong %d off %d high %d covered %d bias %v sd %v", clean, wrong, off, high, covered, sum/n, math.Sqrt(sum2/n))
}
