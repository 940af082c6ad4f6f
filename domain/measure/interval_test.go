package measure

import (
	"math"
	"testing"

	"benchmeet/domain/simulate"
)

// TestCombineKnownCases compares with published examples.
func TestCombineKnownCases(t *testing.T) {
	t.Run("end gauge", func(t *testing.T) {
		// JCGM 100:2008 annex H.1: contributions in nm with their degrees of
		// freedom; inputs as published, results from memory and recomputed. The
		// exact sum is 31.71 with 16.8 degrees; 99 % is 93 nm with t = 2.92.
		u := Combine([]Part{
			{Cause: "standard", Shape: Normal, U: 25, Degrees: 18},
			{Cause: "difference", Shape: Normal, U: 9.7, Degrees: 25.6},
			{Cause: "expansion", Shape: Normal, U: 2.9, Degrees: 50},
			{Cause: "temperature", Shape: Normal, U: 16.6, Degrees: 2},
		})
		if math.Abs(u.Standard-31.7) > 0.1 || math.Abs(u.Degrees-16.8) > 0.2 {
			t.Errorf("u %v, degrees %v; want 31.7 and 16.8", u.Standard, u.Degrees)
		}
		if half := halfWidth(u.Parts, u.Degrees, 0.99); math.Abs(half-93) > 0.6 {
			t.Errorf("99 %% interval %v, want 93", half)
		}
	})
	t.Run("rpm of one period", func(t *testing.T) {
		// JCGM 100:2008, 4.3.7 and F.2.2.1 applied to one turn of 6 ms with stamps
		// of 1 µs and a clock within 50 ppm; computed from the formulas.
		stamps := 10_000 / 6000.0 / math.Sqrt(6)
		clock := 10_000 * 50e-6 / math.Sqrt(3)
		u := Combine([]Part{{Shape: Normal, U: stamps}, {Shape: Rectangular, U: clock}})
		if !closeTo(u.Standard, 0.739118594203, 1e-9) {
			t.Errorf("u %v rpm, want 0.739118594203", u.Standard)
		}
	})
	t.Run("surface speed", func(t *testing.T) {
		// JCGM 100:2008, 5.1.6: 8000 rpm known to 0.7 on 30 mm known within 0.05.
		speed := math.Pi * 0.030 * 8000 / 60
		u := Combine([]Part{
			{Shape: Rectangular, U: speed * 0.05 / 30 / math.Sqrt(3)},
			{Shape: Normal, U: speed * 0.7 / 8000},
		})
		if !closeTo(u.Standard, 0.012141885687, 1e-9) {
			t.Errorf("u %v m/s, want 0.012141885687", u.Standard)
		}
	})
	t.Run("four rectangular parts", func(t *testing.T) {
		// JCGM 101:2008, 9.2.3 (from memory): four rectangular parts of u = 1 add
		// to u = 2 with an interval of 3.88 either side, where 1.96 u is 3.92.
		part := Part{Shape: Rectangular, U: 1}
		u := Combine([]Part{part, part, part, part})
		if !closeTo(u.Standard, 2, 1e-12) || math.Abs(u.Half-3.88) > 0.03 {
			t.Errorf("u %v, half %v; want 2 and 3.88", u.Standard, u.Half)
		}
	})
	t.Run("one rectangular part", func(t *testing.T) {
		u := Combine([]Part{{Shape: Rectangular, U: 1}})
		if !closeTo(u.Half, 0.95*math.Sqrt(3), 1e-3) {
			t.Errorf("half %v, want 0.95 of the half-width", u.Half)
		}
	})
	t.Run("two equal rectangular parts", func(t *testing.T) {
		// Their sum is triangular: 1 - sqrt(0.05) of its half-width.
		u := Combine([]Part{{Shape: Rectangular, U: 1}, {Shape: Rectangular, U: 1}})
		if want := 2 * math.Sqrt(3) * (1 - math.Sqrt(0.05)); !closeTo(u.Half, want, 1e-3) {
			t.Errorf("half %v, want %v", u.Half, want)
		}
	})
	t.Run("nothing", func(t *testing.T) {
		if u := Combine(nil); u.Standard != 0 || u.Half != 0 || !math.IsInf(u.Degrees, 1) {
			t.Errorf("got %+v", u)
		}
	})
}

// TestIntervalAgainstDraws compares the closed form with plain draws.
func TestIntervalAgainstDraws(t *testing.T) {
	r := simulate.Source(12)
	for _, sizes := range [][3]float64{{1, 1, 1}, {3, 1, 0.2}, {1, 0.3, 0}, {0.2, 0.1, 2}} {
		parts := []Part{{Shape: Rectangular, U: sizes[0]}, {Shape: Rectangular, U: sizes[1]}, {Shape: Normal, U: sizes[2]}}
		half := Combine(parts).Half
		const n = 200_000
		inside := 0
		for range n {
			x := sizes[2] * r.NormFloat64()
			for _, u := range sizes[:2] {
				x += u * math.Sqrt(3) * (2*r.Float64() - 1)
			}
			if math.Abs(x) <= half {
				inside++
			}
		}
		if share := float64(inside) / n; math.Abs(share-0.95) > 0.002 {
			t.Errorf("%v: %v of the draws are inside", sizes, share)
		}
	}
}
