package measure

import (
	"math"
	"slices"
	"testing"

	"benchmeet/domain/simulate"
)

// TestRowsOfMissedPasses takes rows of 5 to 20 passes out of the middle of a run:
// both sides of the gap tell how many these were.
func TestRowsOfMissedPasses(t *testing.T) {
	for _, row := range []int{5, 6, 7, 8, 12, 20} {
		for seed := range uint64(30) {
			p := simulate.Usual(seed, 3000+400*float64(seed), 20)
			p.DoubleRate, p.MissRate = 0, 0
			train := simulate.Run(p)
			setup := timed(Bench{CircumferenceMM: nominalMM}, p)
			whole := measured(t, setup, train.Stamps)
			at := len(train.Stamps) * 2 / 3
			m := measured(t, setup, slices.Delete(train.Stamps, at, at+row))
			if math.Abs(m.Turns-whole.Turns) > 1e-6 || m.Bridged != row {
				t.Errorf("%d missed, seed %d: %v turns and %d filled in, want %v", row, seed, m.Turns, m.Bridged, whole.Turns)
			}
			if !slices.Contains(codes(m), RowFilled) {
				t.Errorf("%d missed, seed %d: flags %v", row, seed, codes(m))
			}
		}
	}
}

// TestASilentSecond leaves a whole second out: what the roller did then, nobody
// knows, and no interval may claim to.
func TestASilentSecond(t *testing.T) {
	p := simulate.Usual(3, 9000, 20)
	train := simulate.Run(p)
	var seen []int64
	for _, s := range train.Stamps {
		if s < 12_000_000 || s > 13_000_000 {
			seen = append(seen, s)
		}
	}
	m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), seen)
	if !m.Distance.None || !slices.Contains(codes(m), OpenGap) || m.Turns > train.Truth.Turns {
		t.Errorf("%v turns of %v, interval %+v, flags %v", m.Turns, train.Truth.Turns, m.Distance, codes(m))
	}
}

// TestAbruptStops lets rollers stop within a few turns: their last gaps grow, and are
// no missed passes. Somewhere between two marks they stand.
func TestAbruptStops(t *testing.T) {
	covered, off, n := 0, 0, 400
	for i := range n {
		p := randomTrain(i, 20)
		p.DoubleRate, p.TrailRate, p.MissRate = 0, 0, 0
		p.StallAtS, p.StopTauS = 14, 0.02+0.0002*float64(i)
		train := simulate.Run(p)
		m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), train.Stamps)
		switch d := math.Abs(m.Turns - train.Truth.Turns); {
		case d > 2:
			t.Errorf("train %d: %v turns, truth %v, %d filled in", i, m.Turns, train.Truth.Turns, m.Bridged)
		case d > 1:
			off++
		}
		if covers(m, train.Truth.DistanceM) {
			covered++
		}
		if m.Distance.None || slices.Contains(codes(m), WentSilent) {
			t.Errorf("train %d stopped within %.0f ms, and that was taken for a sensor that failed", i, 1000*p.StopTauS)
		}
	}
	if covered < n*92/100 || off > n*3/100 {
		t.Errorf("the interval covers %d of %d, %d are off by more than a turn", covered, n, off)
	}
}

// TestLastStampsAreMissed: where the last passes before the end did not come, the
// interval reaches further up than down.
func TestLastStampsAreMissed(t *testing.T) {
	p := simulate.Usual(3, 9000, 20)
	train := simulate.Run(p)
	m := measured(t, timed(Bench{CircumferenceMM: nominalMM}, p), train.Stamps[:len(train.Stamps)-6])
	if m.Distance.None || m.Distance.Above < 4*m.Distance.Below || !covers(m, train.Truth.DistanceM) {
		t.Errorf("%v turns of %v, interval %v below and %v above", m.Turns, train.Truth.Turns, m.Distance.Below, m.Distance.Above)
	}
	if !slices.Contains(codes(m), SilentEnd) {
		t.Errorf("flags %v", codes(m))
	}
}

// TestPace compares the fit of a pace with a motion that is known: a speed of 0.1
// turns a ms that grows by 0.0002 turns a ms in each second.
func TestPace(t *testing.T) {
	var p points
	for k := range 12 {
		// From s = v x + a x²/2 with v = 1e-4 and a = 2e-10, for k steps back.
		const v, a = 1e-4, 2e-10
		x := (-v + math.Sqrt(v*v-2*a*float64(k))) / a
		p.add(x, -float64(k))
		if math.IsNaN(x) {
			t.Fatal("the motion does not reach so far back")
		}
	}
	got := p.fit(0)
	if !closeTo(got.speed, 1e-4, 1e-5) || !closeTo(got.accel, 2e-10, 1e-3) || math.Abs(got.phase) > 1e-4 {
		t.Errorf("got %+v", got)
	}
}
