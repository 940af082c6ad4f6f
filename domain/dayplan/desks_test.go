package dayplan_test

import (
	"math"
	"testing"

	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme/programmetest"
)

// TestForecastKnowsHowDesksCall: heats of three among heats of two end later at a desk that
// calls whatever finds its benches, for three benches are rarely free at once. Half of the
// halls call so, and nothing stops their days: a forecast, which has a pause, a broken bench
// and repeated races in it, is a few minutes later on average.
func TestForecastKnowsHowDesksCall(t *testing.T) {
	const days = 40
	off := 0.0
	for seed := range uint64(days) {
		h := newHall(t, seed, 6)
		h.truth, h.greedy = asUsual(h.random, 1), seed%2 == 0
		h.field("a", 12+int(seed%6), false,
			programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 3, "lanes": 3, "rule": "mean"}),
			programmetest.Stage("knockout", programmetest.Set{"entries": 8, "third_place": true}))
		h.field("b", 12+int((seed+3)%6), false, programmetest.Stage("swiss", programmetest.Set{"rounds": 4}))
		f := dayplan.Likely(dayplan.RestOf(h.s, h.now, 0), dayplan.Seen(h.s), 100, seed)
		for _, us := range f.Finish {
			off += float64(us) / 60e6 / float64(len(f.Finish)) / days
		}
		h.play(math.MaxInt64 - 1)
		last := int64(0)
		for _, heat := range h.s.Heats {
			last = max(last, heat.PostedUS)
		}
		off -= float64(last) / 60e6 / days
	}
	t.Logf("forecasts are %+.1f min off on average", off)
	if off < 2 || off > 8 {
		t.Errorf("forecasts are %+.1f min off on average", off)
	}
}

// TestFirstDrawsComeInAnyOrder: of two divisions that are drawn first, a play does not have
// the same one before the other each time.
func TestFirstDrawsComeInAnyOrder(t *testing.T) {
	h := newHall(t, 1, 3)
	stage := programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 2, "lanes": 3, "rule": "mean"})
	h.field("a", 9, false, stage)
	h.field("b", 9, false, stage)
	rest := dayplan.RestOf(h.s, h.now, 0)
	f := dayplan.Likely(rest, dayplan.Seen(h.s), 200, 1)
	for i, r := range rest.Rounds {
		if r.Number > 1 {
			continue
		}
		if early, late := f.StartAt(i, 10)-h.now, f.StartAt(i, 90)-h.now; early > 120*second || late < 150*second {
			t.Errorf("the first round of %s begins %d to %d s from now", r.Division, early/second, late/second)
		}
	}
}
