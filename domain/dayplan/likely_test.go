package dayplan_test

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme/programmetest"
)

// played is a day as a hall played it, with what was forecast at its start and later.
type played struct {
	finish    int64
	forecasts []dayplan.Forecast
	plans     []int64
	at        []int64
}

// playDay plays a day of two divisions on four to eight benches, once to know when its
// thirds are over and once again with forecasts at those instants.
func playDay(t testing.TB, seed uint64) played {
	random := rand.New(rand.NewPCG(seed, 9))
	benches := 4 + random.IntN(5)
	first, second := random.IntN(4), random.IntN(4)
	sizes := [2]int{8 + random.IntN(9), 6 + random.IntN(7)}
	slow := math.Exp(0.18*random.NormFloat64() - 0.18*0.18/2)
	greedy := random.IntN(2) == 0
	programmes := [][]day.Stage{
		{
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 4, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 4, "third_place": true}),
		},
		{programmetest.Stage("knockout", programmetest.Set{"plate": true})},
		{programmetest.Stage("swiss", programmetest.Set{"rounds": 4})},
		{programmetest.Stage("double-elimination", nil)},
	}
	begin := func() *hall {
		h := newHall(t, seed, benches)
		h.noShow, h.again, h.greedy, h.slow = 0.02, 0.02, greedy, slow
		h.field("a", sizes[0], false, programmes[first]...)
		h.field("b", sizes[1], false, programmes[second]...)
		return h
	}
	finish := func(h *hall) (last int64) {
		for _, heat := range h.s.Heats {
			last = max(last, heat.PostedUS)
		}
		return last
	}
	whole := begin()
	whole.play(math.MaxInt64 - 1)
	out := played{finish: finish(whole)}
	h := begin()
	for third := range 3 {
		h.play(openingUS + (out.finish-openingUS)*int64(third)/3)
		rest, pace := dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s)
		out.forecasts = append(out.forecasts, dayplan.Likely(rest, pace, 200, seed))
		out.plans = append(out.plans, dayplan.Order(rest, pace).FinishUS)
		out.at = append(out.at, h.now)
	}
	h.play(math.MaxInt64 - 1)
	out.finish = finish(h) // a few seconds off: who looks at a desk comes between its steps
	return out
}

// TestProveForecastIsCalibrated: of many played days, which know nothing of forecasts, the
// true finish lies within the 10th and the 90th of a hundred in 78 to 82 of a hundred, at the
// start and when a third and two thirds of the day are over. A share of the days gives the
// bounds three standard deviations more.
func TestProveForecastIsCalibrated(t *testing.T) {
	days := 60
	if os.Getenv("BENCHMEET_PROVE") != "" {
		days = 3000
	}
	within, below := [3]int{}, [3]int{}
	var width, off [3]float64
	for seed := range days {
		p := playDay(t, uint64(seed))
		for k, f := range p.forecasts {
			if p.finish < f.At(10) {
				below[k]++
			} else if p.finish <= f.At(90) {
				within[k]++
			}
			width[k] += float64(f.At(90)-f.At(10)) / 60e6 / float64(days)
			off[k] += float64(p.finish-f.At(50)) / 60e6 / float64(days)
		}
	}
	slack := 3 * math.Sqrt(0.8*0.2/float64(days))
	if days == 3000 {
		slack = 0
	}
	for k := range within {
		share := float64(within[k]) / float64(days)
		t.Logf("at %d thirds: %.1f %% within, %.1f %% earlier, width %.1f min, %+.1f min off the middle",
			k, 100*share, 100*float64(below[k])/float64(days), width[k], off[k])
		if share < 0.78-slack || share > 0.82+slack {
			t.Errorf("at %d thirds of the day %.1f %% of the days end as forecast", k, 100*share)
		}
	}
}
