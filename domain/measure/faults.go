package measure

import "math"

const (
	// stallGaps predicted gaps and stallUS without a stamp are a stall.
	stallGaps = 3
	stallUS   = 500_000

	halfRunMost   = 6      // bridged gaps in a row that are no accident
	doubleRunMost = 10     // turns in a row with an extra stamp that are no accident
	flickerNear   = 0.004  // from the mains' rate: its own tolerance and the clock's
	flickerSteady = 0.0008 // from block to block: no motor runs as evenly as a lamp
	flickerLong   = 8 * blockSteps
	coastUS       = 1_000_000
)

// faults collects what a reader of the measurement must know.
type faults struct {
	backwards, impossible, ambiguous, disorder int
	restarts                                   int
	strays, earlyStrays                        int // extra stamps that are no chatter, and those among the first passes

	strayStep   int64 // of the last stray stamp
	strayRun    int   // stray stamps close together
	strayBursts int   // runs of these
	bursts      int   // of stamps that follow too closely to be passes
	rowsFilled  int   // gaps of more than bridgeMost passes that were filled in from both sides
	gapsOpen    int
	longestGap  int64
	lostSquares float64 // variance of the steps in the gaps that were filled in from both sides
	unbounded   bool    // a gap could not be filled in at all
	// belowSteps and aboveSteps are how much less or more than what was counted
	// another reading of the stamps gives.
	belowSteps, aboveSteps float64

	halfStep, halfRun, halfMost       int64
	doubleStep, doubleRun, doubleMost int64
	middleStep, middleRun, middleMost int64 // likewise, of extra stamps that stood between two passes

	blockStep, blockAt int64
	blockGap           float64

	flickerSteps, flickerRun, flickerMost int64
	flickerRate                           int64

	fallGap float64 // the gap at which the present fall of speed began
	fallAt  int64
	coasted bool

	dubious    int64 // steps of a roller that hardly turned amid stray stamps
	lateEnd    bool  // the very last stamp came late
	silentMark bool  // one mark of the roller is never seen
}

// lamp reports whether the stamps come as steadily as those of a lamp.
func (t *Tracker) lamp() bool {
	return t.flickerMost >= flickerLong || (t.flickerSteps >= 20 && t.flickerSteps*5 >= t.steps*4)
}

// doubtRun reports whether a second stamp stood between the passes for so long that
// it may have been the passes that were missed before.
func (t *Tracker) doubtRun() bool {
	return t.middleMost >= doubleRunMost
}

// block does the bookkeeping that one stamp in 32 pays for.
func (t *Tracker) block() {
	if n := t.steps - t.blockStep; n > 0 {
		gap := float64(t.last-t.blockAt) / float64(n)
		if t.blockAt > 0 {
			t.watch(gap, n)
			if t.blockGap > 0 {
				t.drift.learn(gap/t.blockGap-1, float64(t.last-t.blockAt))
			}
		}
		t.blockGap = gap
	}
	t.window.choose(t.level())
	if t.quickBlocks > 0 {
		if t.quickBlocks--; t.quickBlocks == 0 {
			t.gains = calmGains
		}
	}
	t.blockStep, t.blockAt = t.steps, t.last
	t.stepEdge = t.steps + blockSteps
	if limit := t.limitSteps(); limit < t.stepEdge {
		t.stepEdge = max(limit, 0)
	}
}

// watch looks at the mean gap of a block of n steps for a lamp and for a roller
// that runs down.
func (t *Tracker) watch(gap float64, n int64) {
	// Compared by products: this stands in the way of every run, and dividing is slow.
	flicker := int64(0)
	if math.Abs(gap-1e6/100) < flickerNear*(1e6/100) {
		flicker = 100
	} else if math.Abs(gap-1e6/120) < flickerNear*(1e6/120) {
		flicker = 120
	}
	if t.blockGap > 0 && math.Abs(gap-t.blockGap) > flickerSteady*t.blockGap {
		flicker = 0
	}
	if flicker != 0 {
		t.flickerRate = flicker
		t.flickerSteps += n
		t.flickerRun += n
		t.flickerMost = max(t.flickerMost, t.flickerRun)
	} else {
		t.flickerRun = 0
	}
	switch {
	case t.fallGap == 0 || gap < 0.99*t.blockGap:
		t.fallGap, t.fallAt = gap, t.last
	case gap > 2*t.fallGap && t.last-t.fallAt > coastUS:
		t.coasted = true
	}
}
