package quicker_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"benchmeet/domain/quicker"
	"benchmeet/domain/tuning"
)

// afternoon is a car whose truth is known: what it would drive is multiplied by its drift,
// by how well this fitting came out, by what no run repeats and, in the second state, by
// the effect.
type afternoon struct {
	effect, refit float64
	fittings      int
	announced     bool
	drift         func(random *rand.Rand, runs int) []float64
}

// repeat is what no run repeats, relative (common practice).
const repeat = 0.003

func linear(k float64) float64  { return -0.01 * k } // a pack that fades by 1 % a run
func warming(k float64) float64 { return 0.01*(1-math.Exp(-k/4)) - 0.0005*k*k }

func along(of func(float64) float64) func(*rand.Rand, int) []float64 {
	return func(_ *rand.Rand, runs int) []float64 {
		out := make([]float64, runs)
		for k := range out {
			out[k] = of(float64(k))
		}
		return out
	}
}

// recovering is a pack that loses 1 % a run and gets half of it back in pauses of any
// length, as the queue lets the car go.
func recovering(random *rand.Rand, runs int) []float64 {
	out := make([]float64, runs)
	lost, tired := 0.0, 0.0
	for k := range out {
		out[k] = -lost - tired
		lost, tired = lost+0.005, (tired+0.005)*math.Exp(-random.ExpFloat64()*math.Ln2)
	}
	return out
}

// told is what one afternoon said.
type told struct{ atEnd, atStop, said bool }

// play runs an afternoon in a club's log and looks after each single run.
func (a afternoon) play(t *testing.T, random *rand.Rand) told {
	t.Helper()
	const runs = 2
	h := newHall()
	h.fit(2, fastGear)
	h.fit(1, slowGear)
	if a.announced {
		h.announce(a.fittings, runs)
	}
	drift := a.drift(random, a.fittings*runs)
	var out told
	stopped, made := false, 0
	for f, changed := range tuning.Order(a.fittings) {
		fitted := a.refit * random.NormFloat64()
		if f > 0 {
			h.fit(map[bool]int{false: 1, true: 2}[changed], gearOf(changed))
		}
		for range runs {
			v := drift[made] + fitted + repeat*random.NormFloat64()
			if changed {
				v += math.Log1p(a.effect)
			}
			h.run(120 * math.Exp(v))
			made++
			r, err := quicker.Compare(h.State, "c", 1, 2, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Effects) == 0 {
				continue
			}
			e, end := r.Effects[0], made == a.fittings*runs
			holds := e.Low <= a.effect && a.effect <= e.High
			decided := e.Verdict == tuning.Quicker || e.Verdict == tuning.Slower
			if !stopped && (decided || end) {
				stopped, out.atStop, out.said = true, holds, decided
			}
			out.atEnd = holds
		}
	}
	return out
}

// TestProveAfternoons plays whole afternoons through the choice of runs: looked at after
// each run, in the midst of fittings too, the intervals cover as they claim and no more
// differences are said than one of twenty. tuning.TestProveSessions has the other cells.
func TestProveAfternoons(t *testing.T) {
	sessions := 60
	if os.Getenv("BENCHMEET_PROVE") != "" {
		sessions = 5000
	}
	cell := uint64(0)
	for _, d := range []struct {
		name   string
		of     func(*rand.Rand, int) []float64
		curved bool
	}{{"fades", along(linear), false}, {"warms and fades", along(warming), true}, {"recovers", recovering, true}} {
		for _, refit := range []float64{0, 0.003, 0.005} {
			for _, effect := range []float64{0, 0.005, 0.01, 0.02} {
				cell++
				a := afternoon{effect: effect, refit: refit, fittings: 8, announced: cell%2 == 0, drift: d.of}
				random := rand.New(rand.NewPCG(20, cell))
				t.Run(fmt.Sprintf("%s/refit %g/effect %g", d.name, refit, effect), func(t *testing.T) {
					a.hold(t, random, sessions, d.curved)
				})
			}
		}
	}
}

func (a afternoon) hold(t *testing.T, random *rand.Rand, sessions int, curved bool) {
	t.Helper()
	atEnd, atStop, said := 0, 0, 0
	count := func(is bool, n *int) {
		if is {
			*n++
		}
	}
	for range sessions {
		one := a.play(t, random)
		count(one.atEnd, &atEnd)
		count(one.atStop, &atStop)
		count(one.said, &said)
	}
	of := func(n int) float64 { return float64(n) / float64(sessions) }
	// Three standard deviations of a count about its limit are let pass.
	slack := func(p float64) float64 { return 3 * math.Sqrt(p*(1-p)/float64(sessions)) }
	low, high, stop, most := 0.93, 0.97, 0.95, 0.05
	if curved {
		high, stop, most = 1, 0.93, 0.06
	}
	if c := of(atEnd); c < low-slack(low) || c > high+slack(high) {
		t.Errorf("the interval of the announced number covers in %.4f", c)
	}
	if c := of(atStop); c < stop-slack(stop) {
		t.Errorf("where it was stopped the interval covers in %.4f", c)
	}
	if a.effect == 0 && of(said) > most+slack(most) {
		t.Errorf("a difference that is not there was said in %.4f", of(said))
	}
	t.Logf("covers %.4f, at the stop %.4f, said %.4f", of(atEnd), of(atStop), of(said))
}
