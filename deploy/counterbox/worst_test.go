package counterbox_test

import (
	"math/rand/v2"
	"testing"
)

// TestWorst: marks of four rollers that come at once, or a few cycles apart, with commands
// from the cable meanwhile: the longest that an edge can wait.
func TestWorst(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 6))
	s := &script{}
	ready := fast(s, 4)
	edges := make([][]uint64, 4)
	at := ready
	for n := range uint64(600) {
		at += hz/400 + random.Uint64N(100)
		for i := range edges {
			edge := at + random.Uint64N(1+n)
			edges[i] = append(edges[i], edge)
			s.pass(edge, i, 1600)
		}
		if n%50 == 7 {
			s.add(at-random.Uint64N(2000), "cable bench 1 b1")
		}
	}
	s.add(at+hz, "end")
	out := play(t, s)
	for i := range edges {
		spread := out.spread(t, i+1, edges[i])
		t.Logf("input %d: spread %d cycles", i+1, spread)
		if spread > boundCycles {
			t.Errorf("stamps of input %d lie %d cycles apart from their edges, more than %d", i+1, spread, boundCycles)
		}
	}
	t.Logf("longest %d", out.longest)
	if out.longest > boundCycles {
		t.Errorf("interrupts are held for %d cycles, more than %d", out.longest, boundCycles)
	}
}
