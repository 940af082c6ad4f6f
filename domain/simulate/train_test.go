package simulate

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// plain is a run of constant speed without any fault.
func plain(rpm, seconds float64) Params {
	return Params{RPM: rpm, DurationS: seconds, CircumferenceMM: 94.25, TauS: 1e-9, StartUS: 1_000_000, Phase: 0.25}
}

func TestSteadyRunIsExact(t *testing.T) {
	train := Run(plain(10_000, 6))
	// 10,000 rpm are 6 ms a turn; the first 5 ms are the rise, which costs 0.42
	// of a turn; the first pass comes after 0.75 of one.
	if n := len(train.Stamps); n != 999 {
		t.Fatalf("%d stamps in 6 s, want 999", n)
	}
	for i := 10; i < len(train.Stamps); i++ {
		if gap := train.Stamps[i] - train.Stamps[i-1]; gap < 5999 || gap > 6001 {
			t.Fatalf("gap %d is %d µs, want 6000", i, gap)
		}
	}
	if math.Abs(train.Truth.Turns-(1000-0.5/1.2)) > 1e-6 || train.Truth.Passes != 998 {
		t.Errorf("truth %+v, want 999.583 turns and 998 passes", train.Truth)
	}
}

func TestRiseFollowsTheFormula(t *testing.T) {
	p := plain(9000, 3)
	p.TauS = 0.4
	train := Run(p)
	// angle = R (t - tau (1 - exp(-t/tau))) for a first-order rise.
	want := 150 * (3 - 0.4*(1-math.Exp(-3/0.4)))
	if math.Abs(train.Truth.Turns-want) > 0.02 {
		t.Errorf("%v turns, want %v", train.Truth.Turns, want)
	}
	if gap := train.Stamps[0] - p.StartUS; gap < 50_000 || gap > 80_000 {
		t.Errorf("first pass %d µs after the start", gap)
	}
}

func TestFaultsAreCounted(t *testing.T) {
	p := Usual(Key(7, "S12", "2.3", "1"), 8000, 60)
	p.DoubleRate, p.TrailRate, p.MissRate, p.StrayPerS = 0.03, 0.02, 0.02, 1
	train := Run(p)
	truth := train.Truth
	if truth.Doubles < 100 || truth.Misses < 50 || truth.Strays < 20 {
		t.Fatalf("too few faults: %+v", truth)
	}
	if got, want := len(train.Stamps), truth.Total+truth.Doubles-truth.Misses+truth.Strays; got != want {
		t.Errorf("%d stamps, want %d", got, want)
	}
	if !slices.IsSorted(train.Stamps) {
		t.Error("stamps out of order")
	}
}

func TestSameKeySameTrain(t *testing.T) {
	p := Usual(Key(1, "a"), 9000, 5)
	if diff := cmp.Diff(Run(p), Run(p)); diff != "" {
		t.Errorf("differs (-want +got):\n%s", diff)
	}
	q := p
	q.Key = Key(1, "b")
	if slices.Equal(Run(p).Stamps, Run(q).Stamps) {
		t.Error("two keys gave the same train")
	}
}

// TestKeyIsFrozen holds the derivation: a changed value would change every
// rehearsal. Never edit the expected numbers.
func TestKeyIsFrozen(t *testing.T) {
	if a, b := Key(7, "ab", "c"), Key(7, "a", "bc"); a == b {
		t.Errorf("names run into each other: %d", a)
	}
	if got, want := Key(7, "S12", "2.3", "1"), uint64(0xea1c69900485d72c); got != want {
		t.Errorf("key %#x, want %#x", got, want)
	}
}

func BenchmarkRun(b *testing.B) {
	p := Usual(1, 8000, 60)
	for b.Loop() {
		p.Key++
		Run(p)
	}
}
