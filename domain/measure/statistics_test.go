package measure

import (
	"math"
	"strconv"
	"sync"
	"testing"

	"benchmeet/domain/simulate"
)

const nominalMM = 94.25

// randomTrain draws the parameters of train i: 3,000 to 20,000 rpm, up to 5 %
// doubles and 2 % isolated misses.
func randomTrain(i int, seconds float64) simulate.Params {
	key := simulate.Key(2026, "statistics", strconv.Itoa(i))
	r := simulate.Source(key)
	p := simulate.Usual(key, 3000+17_000*r.Float64()*r.Float64(), seconds)
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

func measured(t *testing.T, s Setup, stamps []int64) Measurement {
	t.Helper()
	m, err := Measure(s, stamps)
	if err != nil {
		t.Error(err)
	}
	return m
}

// timed adds the start and the duration of a simulated run to a bench.
func timed(b Bench, p simulate.Params) Setup {
	start, seconds := p.StartUS, p.DurationS
	return Setup{Bench: b, Race: Race{StartUS: &start, DurationS: &seconds}}
}

// TestThousandSixMinuteTrains holds what a result must be worth: turns exact in
// all but one of a thousand trains without a fault at their very ends, and
// within one in the others; top speed not above the truth by more than 1 %; the
// 95 % interval covers the truth in 93 to 97 % of them, though here it is made
// of the two ends alone.
func TestThousandSixMinuteTrains(t *testing.T) {
	const n = 1000
	type outcome struct {
		clean, covered bool
		off, top       float64
	}
	outcomes := make([]outcome, n)
	inParallel(n, func(i int) {
		p := randomTrain(i, 360)
		train := simulate.Run(p)
		truth := train.Truth
		m := measured(t, Setup{Bench: Bench{CircumferenceMM: nominalMM}}, train.Stamps)
		race := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), train.Stamps)
		outcomes[i] = outcome{
			clean:   truth.FirstFault < 0 || truth.FirstFault >= 5 && truth.LastFault < truth.Total-2,
			off:     m.Turns - float64(truth.Passes),
			top:     race.MaxRPM / truth.MaxRPM,
			covered: math.Abs(race.DistanceM-truth.DistanceM) <= race.Distance.Half,
		}
	})
	var clean, wrong, covered int
	highest := 0.0
	for i, o := range outcomes {
		if o.clean {
			clean++
			if o.off != 0 {
				wrong++
			}
		}
		if math.Abs(o.off) > 1 {
			t.Errorf("train %d is off by %v turns", i, o.off)
		}
		if o.covered {
			covered++
		}
		highest = max(highest, o.top)
	}
	t.Logf("%d clean trains, %d of them wrong; top speed at most %.4f of the truth; %d covered", clean, wrong, highest, covered)
	if clean < 500 || wrong*1000 > clean {
		t.Errorf("%d of %d clean trains are wrong", wrong, clean)
	}
	if highest > 1.01 {
		t.Errorf("top speed is %v of the truth", highest)
	}
	if covered < 930 || covered > 970 {
		t.Errorf("the 95 %% interval covers %d of %d", covered, n)
	}
}

// TestIntervalCovers lets one cause after the other dominate.
func TestIntervalCovers(t *testing.T) {
	// Seconds are enough to tell the causes apart, and quick.
	const n, seconds = 3000, 4.0
	tests := []struct {
		name  string
		bench Bench
		// spoil makes the truth differ from what the bench states.
		spoil func(p *simulate.Params, normal, uniform float64)
		race  func(r *Race)
		// most is the largest share that may be covered; 0 means 0.97.
		most float64
	}{
		{name: "ends", bench: Bench{CircumferenceMM: nominalMM}},
		{
			name: "four marks", bench: Bench{CircumferenceMM: nominalMM, MarksPerTurn: 4},
			spoil: func(p *simulate.Params, _, _ float64) { p.Marks = 4 },
			// With four marks the ends are known so well that the wheel's run-out is the
			// largest part. It is taken as twice what these trains have.
			most: 0.98,
		},
		{
			name: "circumference", bench: Bench{CircumferenceMM: nominalMM, CircumferenceUncertaintyMM: 0.3},
			spoil: func(p *simulate.Params, normal, _ float64) { p.CircumferenceMM += 0.3 * normal },
		},
		{
			name: "clock", bench: Bench{CircumferenceMM: nominalMM, ClockPPM: 3000},
			spoil: func(p *simulate.Params, normal, _ float64) {
				p.ClockPPM = 3000 * normal
			},
		},
		{
			name: "delay of the start", bench: Bench{CircumferenceMM: nominalMM},
			spoil: func(p *simulate.Params, _, uniform float64) { p.StartUS -= int64(60_000 * uniform) },
			race:  func(r *Race) { r.StartDelayUS = 60_000 },
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			covered := make([]bool, n)
			inParallel(n, func(i int) {
				p := randomTrain(i, seconds)
				p.ReactionS += 0.1
				p.TailS = 0.2
				setup := timed(tt.bench, p)
				if tt.spoil != nil {
					r := simulate.Source(simulate.Key(p.Key, "spoil"))
					tt.spoil(&p, r.NormFloat64(), r.Float64())
				}
				if tt.race != nil {
					tt.race(&setup.Race)
				}
				train := simulate.Run(p)
				end := *setup.Race.StartUS + int64(1e6**setup.Race.DurationS) // the bench ends the run
				for len(train.Stamps) > 0 && train.Stamps[len(train.Stamps)-1] > end {
					train.Stamps = train.Stamps[:len(train.Stamps)-1]
				}
				m := measured(t, setup, train.Stamps)
				covered[i] = math.Abs(m.DistanceM-train.Truth.DistanceM) <= m.Distance.Half
			})
			count := 0
			for _, c := range covered {
				if c {
					count++
				}
			}
			share := float64(count) / n
			t.Logf("covers %.4f", share)
			if share < 0.93 || share > max(0.97, tt.most) {
				t.Errorf("the 95 %% interval covers %.4f", share)
			}
		})
	}
}
