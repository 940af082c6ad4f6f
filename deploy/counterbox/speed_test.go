package counterbox_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// The documented figures; TestPages holds README.md beside this file and the builder's page
// to them.
const (
	// boundUS is the most by which two stamps differ from their edges: the longest time for
	// which the program holds interrupts, and the step of the clock.
	boundUS     = 27
	boundCycles = boundUS * hz / 1_000_000
	// pulseUS is how long mark and gap each are at least, to be stamped.
	pulseUS     = 28
	pulseCycles = pulseUS * hz / 1_000_000
	// quickest is the fastest roller, in turns a minute.
	quickest = 25_000
	// fullOneMark and fullFourMarks say how full four such rollers make the quickest line at
	// most, in per cent, with one mark and with four: after six minutes, for the numbers of
	// the line get longer.
	fullOneMark, fullFourMarks = 11, 40
)

func seconds(short, long uint64) uint64 {
	if os.Getenv("BENCHMEET_PROVE") != "" {
		return long
	}
	return short
}

// train is passes of a roller with a number of marks, with jitter of a thousandth.
func train(random *rand.Rand, from, until uint64, rpm float64, marks int) []uint64 {
	var out []uint64
	period := hz * 60 / rpm / float64(marks)
	for at := float64(from) + random.Float64()*period; at < float64(until); at += period * (1 + 0.001*random.NormFloat64()) {
		out = append(out, uint64(at))
	}
	return out
}

// fast sets a board up for the quickest line and so many inputs.
func fast(s *script, inputs int) (ready uint64) {
	s.add(bootTime, "cable inputs %d", inputs)
	s.add(bootTime+hz, "cable baud 1000000")
	return bootTime + 2*hz
}

func TestProveFourInputsAtFullSpeed(t *testing.T) {
	for marks, full := range map[int]float64{1: fullOneMark, 4: fullFourMarks} {
		random := rand.New(rand.NewPCG(1, uint64(marks)))
		s := &script{}
		ready := fast(s, 4)
		until := ready + seconds(30, 360)*hz
		edges := make([][]uint64, 4)
		for i := range edges {
			edges[i] = train(random, ready, until, quickest*(1-0.01*float64(i)), marks)
			for _, at := range edges[i] {
				s.pass(at, i, 1600) // 100 µs
			}
		}
		s.add(until+hz/2, "end")
		out := play(t, s)
		before := play(t, func() *script { s := &script{}; r := fast(s, 4); s.add(r, "end"); return s }())
		worst := uint64(0)
		for i := range edges {
			worst = max(worst, out.spread(t, i+1, edges[i]))
		}
		load := float64(out.bytes-before.bytes) * 10 / 1e6 / (float64(until-ready) / hz)
		t.Logf("%d marks: %d s, worst spread %d cycles, longest interrupt %d, line %.0f %% full, said %q",
			marks, (until-ready)/hz, worst, out.longest, 100*load, out.said)
		if worst > boundCycles || out.longest > boundCycles {
			t.Errorf("%d marks: stamps lie %d cycles apart from their edges, interrupts are held for %d; %d is what the page says",
				marks, worst, out.longest, boundCycles)
		}
		if round := math.Round(100 * load); round > full || round < full-1 {
			t.Errorf("%d marks: the line is %.1f %% full, the page says at most %.0f", marks, 100*load, full)
		}
	}
}
