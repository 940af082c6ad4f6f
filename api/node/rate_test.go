package node

import (
	"fmt"
	"log/slog"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"benchmeet/api/gen"
)

// TestRateCovers: a box of a known rate whose lines are late by what adapters and
// computers make them: 1 to 20 ms in steps, and now and then much more.
func TestRateCovers(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	inside, all := 0, 0
	for _, ppm := range []float64{0, 30, -120, 5000, -5000} {
		for range 40 {
			var r rates
			var got Rate
			told := 0
			for s := 0.0; s < 1250; s += 0.2 + 0.6*rng.Float64() {
				delay := 0.001 + 0.016*rng.Float64()*rng.Float64()
				if rng.IntN(20) == 0 {
					delay += 0.3 * rng.ExpFloat64()
				}
				us := int64(s * 1e6 * (1 + ppm*1e-6))
				at := time.Duration((s + delay) * float64(time.Second))
				r.add(at, us)
				if rate, due := r.due(at); due {
					got, told = rate, told+1
				}
			}
			if told != 2 {
				t.Fatalf("told %d times in twenty minutes", told)
			}
			all++
			// The computer's own clock is right here, so without its part.
			own := math.Sqrt(max(got.UPPM*got.UPPM-hostPPM*hostPPM, 0))
			if math.Abs(got.PPM-ppm) <= 2*own+0.1 {
				inside++
			}
			if got.UPPM > 35 || math.Abs(got.PPM-ppm) > 10 {
				t.Errorf("a box at %g ppm is told to be at %.1f ± %.1f", ppm, got.PPM, got.UPPM)
			}
		}
	}
	if inside < all*95/100 {
		t.Errorf("%d of %d are within two standard uncertainties", inside, all)
	}
}

func TestRateIsNotToldTooSoon(t *testing.T) {
	var r rates
	for s := range 599 {
		at := time.Duration(s) * time.Second
		r.add(at, at.Microseconds())
		if _, due := r.due(at); due {
			t.Fatalf("told after %d s", s)
		}
	}
}

func TestRateSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct {
		rate   Rate
		set    float64
		beyond bool
		says   string
	}{
		{Rate{5000, 31}, 50, true, "runs fast by 5000 ± 62 ppm"},
		{Rate{-5000, 31}, 50, true, "runs slow by 5000"},
		{Rate{5000, 31}, 50, true, "clock_ppm of the bench to 5070 or more"},
		{Rate{60, 31}, 50, false, ""},
		{Rate{-100, 31}, 50, false, ""},
		{Rate{5000, 31}, 5000, false, ""},
	} {
		if c.rate.Beyond(c.set) != c.beyond || !strings.Contains(c.rate.Says(c.set), c.says) {
			t.Errorf("%+v of %g: %v, %s", c.rate, c.set, c.rate.Beyond(c.set), c.rate.Says(c.set))
		}
	}
}

// TestRateGoesWithTheRunAndChangesNoStamp: twelve minutes at the box's lines, then a
// run: its totals say the rate, its stamps are the box's.
func TestRateGoesWithTheRunAndChangesNoStamp(t *testing.T) {
	r := newRuns(1, slog.New(slog.DiscardHandler), func([]byte, *openRun) error { return nil })
	origin := time.Date(2031, 5, 3, 9, 0, 0, 0, time.UTC)
	for s := range 720 {
		r.box.line(fmt.Sprintf("now %d", int64(float64(s)*1e6*1.005)), origin.Add(time.Duration(s)*time.Second))
	}
	run, race, practice := "r1", 5.0, gen.BenchOrder{Bench: "b1", Kind: gen.BenchOrderKindPractice}
	practice.Run, practice.RaceS = &run, &race
	now := origin.Add(720 * time.Second)
	r.obey(practice, 0, now)
	r.box.line("723600000", now)
	if got := r.now.stamps; len(got) != 1 || got[0] != 723_600_000 {
		t.Errorf("the stamps are %v", got)
	}
	last := r.now
	if err := r.end(); err != nil {
		t.Fatal(err)
	}
	if ppb := last.totals.ClockPPB; ppb < 4_990_000 || ppb > 5_010_000 || last.totals.UClockPPB < 30_000 {
		t.Errorf("the totals say %d ± %d", ppb, last.totals.UClockPPB)
	}
	if len(r.rates) != 1 {
		t.Error("nobody is told")
	}
}
