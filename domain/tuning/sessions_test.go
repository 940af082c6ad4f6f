package tuning_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"benchmeet/domain/tuning"
)

// session is an afternoon of one car, made from the physics: what the car would do is
// multiplied by its drift, by how well this fitting came out and by what no run repeats.
type session struct {
	effect, repeat, refit float64 // relative
	runsAFitting          int
	// drift gives the natural logarithm for the k-th run of the car, after a pause or not.
	drift func(random *rand.Rand, runs int) []float64
}

func (s session) play(random *rand.Rand, fittings int) []tuning.Run {
	order := tuning.Order(fittings)
	drift := s.drift(random, fittings*s.runsAFitting)
	var runs []tuning.Run
	for f, changed := range order {
		fitted := s.refit * random.NormFloat64()
		for range s.runsAFitting {
			v := drift[len(runs)] + fitted + s.repeat*random.NormFloat64()
			if changed {
				v += math.Log1p(s.effect)
			}
			runs = append(runs, tuning.Run{Value: 120 * math.Exp(v), Changed: changed, Fitting: f, At: float64(len(runs))})
		}
	}
	return runs
}

func driftOf(of func(k float64) float64) func(*rand.Rand, int) []float64 {
	return func(_ *rand.Rand, runs int) []float64 {
		list := make([]float64, runs)
		for k := range list {
			list[k] = of(float64(k))
		}
		return list
	}
}

var (
	steady    = driftOf(func(float64) float64 { return 0 })
	flattens  = driftOf(func(k float64) float64 { return -0.01 * k })
	warms     = driftOf(func(k float64) float64 { return 0.01 * (1 - math.Exp(-k/4)) })
	bothBends = driftOf(func(k float64) float64 { return 0.01*(1-math.Exp(-k/4)) - 0.0005*k*k })
)

// recovers is a pack that loses 1 % a run and gets half of what it lost lately back in
// a pause; turns come as the queue lets them, so pauses are of any length.
func recovers(random *rand.Rand, runs int) []float64 {
	list := make([]float64, runs)
	lost, tired := 0.0, 0.0
	for k := range list {
		list[k] = -(lost + tired)
		lost, tired = lost+0.005, tired+0.005
		tired *= math.Exp(-random.ExpFloat64() * math.Ln2)
	}
	return list
}

func TestProveSessions(t *testing.T) {
	sessions := 400
	if os.Getenv("BENCHMEET_PROVE") != "" {
		sessions = 5000
	}
	cell := uint64(0)
	drifts := []struct {
		name   string
		of     func(*rand.Rand, int) []float64
		curved bool
	}{{"steady", steady, false}, {"flattens", flattens, false}, {"warms", warms, true}, {"bends", bothBends, true}, {"recovers", recovers, true}}
	for i, d := range drifts {
		for _, refit := range []float64{0, 0.003, 0.005} {
			for _, effect := range []float64{0, 0.005, 0.01, 0.02} {
				for _, runsAFitting := range []int{1, 2} {
					cell++
					s := session{effect: effect, repeat: 0.003, refit: refit, runsAFitting: runsAFitting, drift: d.of}
					t.Run(fmt.Sprintf("%s/refit %g/effect %g/%d a fitting", d.name, refit, effect, runsAFitting), func(t *testing.T) {
						s.hold(t, rand.New(rand.NewPCG(uint64(i), cell)), sessions, d.curved)
					})
				}
			}
		}
	}
}

// hold plays sessions, looks after each fitting and holds the answers to the truth: with a
// drift that is no curve the intervals cover as they claim, and a difference that is not
// there is said in at most one of twenty; with a curve a little more is let pass.
func (s session) hold(t *testing.T, random *rand.Rand, sessions int, curved bool) {
	t.Helper()
	const announced = 8
	atEnd, atStop, said := 0, 0, 0
	for range sessions {
		runs := s.play(random, announced)
		stopped := false
		for n := 2; n <= announced; n++ {
			a, err := tuning.Compare(runs[:n*s.runsAFitting], announced, tuning.Scatter{})
			if err != nil {
				t.Fatal(err)
			}
			holds := a.Low <= s.effect && s.effect <= a.High
			decided := a.Verdict == tuning.Quicker || a.Verdict == tuning.Slower
			if !stopped && (decided || n == announced) {
				stopped = true
				if holds {
					atStop++
				}
				if decided {
					said++
				}
			}
			if n == announced && holds {
				atEnd++
			}
		}
	}
	of := func(n int) float64 { return float64(n) / float64(sessions) }
	// Three standard deviations of a count about its limit are let pass.
	slack := func(p float64) float64 { return 3 * math.Sqrt(p*(1-p)/float64(sessions)) }
	low, high, most := 0.93, 0.97, 0.05
	if curved {
		high, most = 1, 0.06
	}
	if c := of(atEnd); c < low-slack(low) || c > high+slack(high) {
		t.Errorf("the interval of the announced number covers in %.3f", c)
	}
	if c, least := of(atStop), map[bool]float64{false: 0.95, true: 0.93}[curved]; c < least-slack(least) {
		t.Errorf("where it was stopped the interval covers in %.3f", c)
	}
	if s.effect == 0 && of(said) > most+slack(most) {
		t.Errorf("a difference that is not there was said in %.3f", of(said))
	}
	t.Logf("covers %.3f, at the stop %.3f, said %.3f", of(atEnd), of(atStop), of(said))
}

// TestFourFittings: four fittings of two runs, a gear out and in again, with a straight
// drift. Alone they leave one degree of freedom and show hardly anything; with what cars
// scattered by that scatter alike they cover as well, and show a change of 2 %.
func TestFourFittings(t *testing.T) {
	const sessions = 2000
	s := session{effect: 0.02, repeat: 0.003, refit: 0.003, runsAFitting: 2, drift: flattens}
	// What a fitting of two runs scatters by, known from thirty others.
	sd := math.Sqrt(0.003*0.003 + 0.003*0.003/2)
	random := rand.New(rand.NewPCG(4, 4))
	for _, known := range []bool{false, true} {
		covers, said := 0, 0
		for range sessions {
			var before tuning.Scatter
			if known {
				squares := 0.0
				for range 30 {
					v := sd * random.NormFloat64()
					squares += v * v
				}
				before = tuning.Scatter{SD: math.Sqrt(squares / 30), Degrees: 30}
			}
			a, err := tuning.Compare(s.play(random, 4), 4, before)
			if err != nil {
				t.Fatal(err)
			}
			if want := 1 + before.Degrees; a.Scatter.Degrees != want {
				t.Fatalf("%d degrees of freedom, not %d", a.Scatter.Degrees, want)
			}
			if a.Low <= s.effect && s.effect <= a.High {
				covers++
			}
			if a.Verdict == tuning.Quicker {
				said++
			}
		}
		c, q := float64(covers)/sessions, float64(said)/sessions
		// The last look spends 4 %; five standard deviations of the count are 0.022.
		if math.Abs(c-0.96) > 0.022 {
			t.Errorf("known %v: the interval covers in %.3f", known, c)
		}
		if known && q < 0.95 || !known && q > 0.5 {
			t.Errorf("known %v: quicker is said in %.3f", known, q)
		}
	}
}
